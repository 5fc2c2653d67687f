import { corners as cornersOf } from "../analysis/corners.ts";
import {
	AXES,
	type AxisName,
	type FixedGainSet,
	type GainSchedule,
	type GainSet,
	SCHEDULED_GAINS,
} from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { type Limits, limitsOf } from "./characters.ts";
import { createMarginCells } from "./margin-cells.ts";
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
 * serve where one goes over into the other; then the interpolated gains are held against the limits at quarters between breakpoints, and the grid is made finer where they
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
		const checked = missedBetween(craft, gainSet, limits, grid);
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

/** The worst of what the interpolated gains miss at quarters between breakpoints, in every corner there; axis by axis, as the search judges. */
function missedBetween(
	craft: Craft,
	set: GainSet,
	limits: Limits,
	{ poses, loadsKg }: Grid,
): { readonly missed: string; readonly count: number } {
	const rows = between(poses.map(({ poseRad }) => poseRad));
	const columns = between(loadsKg.map((kg) => [kg])).map(([kg]) => kg!);
	let count = 0;
	let worst = SLACK;
	let missed = "";
	for (const poseRad of rows)
		for (const loadKg of columns) {
			count++;
			const points = cornersAt(craft, poseRad, loadKg).map(({ point }) => point);
			for (const axis of AXES) {
				const { share, words } = shortfall(craft, set, axis, limits, points);
				if (share <= worst) continue;
				worst = share;
				missed = `${axis}, ${nameAt(craft, poseRad, loadKg)}: ${words}`;
			}
		}
	return { missed, count };
}

function shortfall(
	craft: Craft,
	set: GainSet,
	axis: AxisName,
	limits: Limits,
	points: Parameters<typeof createMarginCells>[1],
) {
	const answer = createMarginCells(axis, points)(craft, set);
	if ("why" in answer) return { share: 0, words: "" };
	if (!answer.stable) return { share: Number.POSITIVE_INFINITY, words: "unstable" };
	const misses = [
		{
			what: "Ms",
			value: 1 / answer.stabilityRadius,
			limit: limits.ms,
			share: 1 / answer.stabilityRadius / limits.ms - 1,
		},
		...(
			[
				["phase margin, deg", answer.phaseMarginDeg, limits.phaseMarginDeg],
				["gain margin up, dB", answer.gainMarginUpDb, limits.gainMarginUpDb],
				["gain margin down, dB", answer.gainMarginDownDb, limits.gainMarginDownDb],
			] as const
		).map(([what, value, limit]) => ({ what, value, limit, share: 1 - value / limit })),
	];
	const worst = misses.reduce((a, b) => (b.share > a.share ? b : a));
	return {
		share: worst.share,
		words: `${worst.what} ${Number(worst.value.toPrecision(3))}, limit ${worst.limit}`,
	};
}

/** Quarters between neighbours, the breakpoints themselves left out; a list of one stands for itself. */
function between(list: readonly (readonly number[])[]): number[][] {
	if (list.length === 1) return [[...list[0]!]];
	return list
		.slice(1)
		.flatMap((end, i) =>
			[0.25, 0.5, 0.75].map((share) => list[i]!.map((value, k) => value + share * (end[k]! - value))),
		);
}
