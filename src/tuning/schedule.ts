import { corners as cornersOf } from "../analysis/corners.ts";
import { marginsBrief } from "../analysis/margins-report.ts";
import {
	AXES,
	type FixedGainSet,
	type GainSchedule,
	type GainSet,
	SCHEDULED_GAINS,
} from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { type Limits, limitsOf } from "./characters.ts";
import { brokenMargins } from "./reach.ts";
import { cornersAt, nameAt } from "./reach-corners.ts";
import { type ReachPose, reachPoses } from "./reach-pose.ts";
import type { TuneCorner, TuneOptions, TuneResult } from "./result.ts";
import { tune } from "./tune.ts";

/** Gains found for one pose and load and what lies half-way to their neighbours. */
export interface Breakpoint {
	readonly poseRad: readonly number[];
	readonly loadKg: number;
	readonly tuned: TuneResult;
}

export interface ScheduleResult {
	/** With its schedule; null where there is none. */
	readonly gainSet: GainSet | null;
	readonly breakpoints: readonly Breakpoint[];
	/** Empty, or the pose and load for which even gains of their own cannot keep the limits, and why. */
	readonly why: string;
	/** Poses and loads between breakpoints at which the interpolated gains were held against every limit in every corner. */
	readonly between: number;
}

export interface Progress {
	readonly done: number;
	readonly of: number;
	readonly doing: string;
}

/** Poses and loads of the coarse grid and of finer ones, tried in turn. */
const GRIDS = [
	{ poses: 3, loads: 2 },
	{ poses: 5, loads: 3 },
	{ poses: 9, loads: 3 },
] as const;

/** By what the interpolated gains may pass a limit between breakpoints: the search's own slack. */
const SLACK = 0.01;

interface Grid {
	readonly poses: readonly ReachPose[];
	readonly loadsKg: readonly number[];
}

/**
 * Gains over poses and loads of the reach arm: each breakpoint is tuned in every corner at its own pose and load and half-way to its neighbours, so that two neighbours' gains both
 * serve where one goes over into the other; then the interpolated gains, every loop closed, are held against the limits half-way between breakpoints, and the grid is made finer where they
 * do not keep them. Deterministic; yields after each breakpoint.
 */
export function* tuneSchedule(craft: Craft, options: TuneOptions): Generator<Progress, ScheduleResult> {
	const limits = limitsOf(options.character, options.limits);
	let failed: ScheduleResult | null = null;
	for (const { poses, loads } of GRIDS) {
		const grid = gridOf(craft, poses, loads);
		const found = yield* tuneGrid(craft, options, grid);
		if (found.why !== "" && found.final)
			return { gainSet: null, breakpoints: found.points, why: found.why, between: 0 };
		if (found.why !== "") {
			failed = { gainSet: null, breakpoints: found.points, why: found.why, between: 0 };
			continue;
		}
		const gainSet = scheduledSet(craft, options, grid, found.points);
		const checked = yield* missedBetween(craft, gainSet, limits, grid);
		if (checked.missed === "") return { gainSet, breakpoints: found.points, why: "", between: checked.count };
		failed = {
			gainSet: null,
			breakpoints: found.points,
			why: `between breakpoints the interpolated gains do not keep every limit: ${checked.missed}`,
			between: checked.count,
		};
	}
	return failed!;
}

function gridOf(craft: Craft, poses: number, loads: number): Grid {
	const { massKg } = craft.load;
	const count = massKg > 0 ? loads : 1;
	const sorted = reachPoses(craft, poses)
		.filter(({ refused }) => refused === "")
		.sort((a, b) => a.poseRad[0]! - b.poseRad[0]!);
	return {
		poses: sorted,
		loadsKg: Array.from({ length: count }, (_, i) => (count > 1 ? (massKg * i) / (count - 1) : 0)),
	};
}

function* tuneGrid(craft: Craft, options: TuneOptions, { poses, loadsKg }: Grid) {
	const points: Breakpoint[] = [];
	const of = poses.length * loadsKg.length;
	for (const [i, { poseRad }] of poses.entries())
		for (const [j, loadKg] of loadsKg.entries()) {
			const near: TuneCorner[] = [];
			for (const row of neighbours(
				poses.map((pose) => pose.poseRad),
				i,
			))
				for (const [kg] of neighbours(
					loadsKg.map((each) => [each]),
					j,
				))
					near.push(...cornersAt(craft, row, kg!));
			if (isFolded(poseRad)) near.push(...fullThrottle(craft, loadKg));
			const tuned = tune(craft, { ...options, alternatives: false, corners: near });
			points.push({ poseRad, loadKg, tuned });
			yield { done: points.length, of, doing: `gains at ${nameAt(craft, poseRad, loadKg)}` };
			if (tuned.feasible) continue;
			const alone = tune(craft, {
				...options,
				alternatives: false,
				corners: cornersAt(craft, poseRad, loadKg),
			});
			const why = AXES.map((axis) => (alone.feasible ? tuned : alone).axes[axis].why)
				.filter((w) => w !== "")
				.join("; ");
			return {
				points,
				final: !alone.feasible,
				why: alone.feasible
					? `no gains serve ${nameAt(craft, poseRad, loadKg)} and half-way to the next of ${poses.length} poses and ${loadsKg.length} loads: ${why}`
					: `not even gains of its own serve ${nameAt(craft, poseRad, loadKg)}: ${why}`,
			};
		}
	return { points, final: false, why: "" };
}

const isFolded = (poseRad: readonly number[]): boolean => poseRad.every((angle) => angle === 0);

/** The entry itself and the middles towards its neighbours. */
function neighbours(list: readonly (readonly number[])[], at: number): number[][] {
	const own = list[at]!;
	const towards = [list[at - 1], list[at + 1]].filter((each) => each !== undefined);
	return [[...own], ...towards.map((each) => own.map((value, k) => (value + each[k]!) / 2))];
}

/** Full throttle is flown with the limb folded. */
const fullThrottle = (craft: Craft, loadKg: number): TuneCorner[] =>
	cornersOf(craft)
		.filter(({ point }) => point.throttle === "full" && point.load === (loadKg > 0 ? "heaviest" : "none"))
		.map(({ name, point }) => ({
			name: `${name}, folded`,
			point: { ...point, load: loadKg > 0 ? { massKg: loadKg } : ("none" as const) },
		}));

/** The set of the folded, empty limb, and factors on it; a gain that is 0 there stands at its largest instead. */
function scheduledSet(
	craft: Craft,
	options: TuneOptions,
	{ poses, loadsKg }: Grid,
	points: readonly Breakpoint[],
): GainSet {
	const sets = points.map(({ tuned }) => tuned.gainSet!);
	const home = points.findIndex(({ poseRad, loadKg }) => isFolded(poseRad) && loadKg === 0);
	const own = sets[Math.max(0, home)]!;
	const axes = AXES.map((axis) => {
		const base = { ...own[axis] };
		const factors = {} as Record<(typeof SCHEDULED_GAINS)[number], number[][]>;
		for (const gain of SCHEDULED_GAINS) {
			const values = sets.map((set) => set[axis][gain]);
			if (base[gain] === 0) base[gain] = Math.max(...values);
			const over = base[gain];
			factors[gain] = poses.map((_, i) =>
				loadsKg.map((_, j) => (over === 0 ? 1 : values[i * loadsKg.length + j]! / over)),
			);
		}
		base.rateLimitRadPerSec = Math.min(...sets.map((set) => set[axis].rateLimitRadPerSec));
		return { gains: base, factors };
	});
	const [roll, pitch, yaw] = axes as [(typeof axes)[0], (typeof axes)[0], (typeof axes)[0]];
	const schedule: GainSchedule = {
		link: 0,
		hinge: craft.limb!.links[0]!.name,
		anglesRad: poses.map(({ poseRad }) => poseRad[0]!),
		loadsKg,
		factors: { roll: roll.factors, pitch: pitch.factors, yaw: yaw.factors },
	};
	const fixed: FixedGainSet = {
		...own,
		name: options.name ?? "A",
		roll: roll.gains,
		pitch: pitch.gains,
		yaw: yaw.gains,
	};
	return { ...fixed, schedule };
}

/** The first limit that the interpolated gains miss half-way between breakpoints in any corner, every loop closed; empty where none is. */
function* missedBetween(
	craft: Craft,
	set: GainSet,
	limits: Limits,
	{ poses, loadsKg }: Grid,
): Generator<Progress, { readonly missed: string; readonly count: number }> {
	const rows = poses.map(({ poseRad }) => poseRad);
	const loads = loadsKg.map((kg) => [kg]);
	const between = [
		...middles(rows).flatMap((poseRad) =>
			[...loads, ...middles(loads)].map(([kg]) => ({ poseRad, kg: kg! })),
		),
		...rows.flatMap((poseRad) => middles(loads).map(([kg]) => ({ poseRad, kg: kg! }))),
	];
	const allowed = slackened(limits);
	let count = 0;
	for (const { poseRad, kg } of between) {
		for (const { name, point } of cornersAt(craft, poseRad, kg)) {
			const found = marginsBrief(craft, set, point);
			const [broken] = found.feasible ? brokenMargins(found.brief, allowed) : [];
			if (broken)
				return {
					missed: `${broken.what} ${Number(broken.value.toPrecision(3))}, limit ${Number(broken.limit.toPrecision(3))} (${name})`,
					count,
				};
		}
		count++;
		yield { done: count, of: between.length, doing: "between breakpoints" };
	}
	return { missed: "", count };
}

const slackened = (limits: Limits): Limits => ({
	...limits,
	ms: limits.ms * (1 + SLACK),
	mt: limits.mt * (1 + SLACK),
	phaseMarginDeg: limits.phaseMarginDeg * (1 - SLACK),
	gainMarginUpDb: limits.gainMarginUpDb * (1 - SLACK),
	gainMarginDownDb: limits.gainMarginDownDb * (1 - SLACK),
});

const middles = (list: readonly (readonly number[])[]): number[][] =>
	list.slice(1).map((end, i) => list[i]!.map((value, k) => (value + end[k]!) / 2));
