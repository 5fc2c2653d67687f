import { marginsBrief } from "../analysis/margins-report.ts";
import { AXES, type GainSchedule, type GainSet, SCHEDULED_GAINS } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { type Limits, limitsOf } from "./characters.ts";
import { type Broken, brokenMargins } from "./reach.ts";
import { cornersAt, nameAt } from "./reach-corners.ts";
import type { TuneOptions, TuneResult } from "./result.ts";
import { type Breakpoint, type Grid, isFolded, type Place, placesOf, scheduleGrid } from "./schedule-grid.ts";
import { tune } from "./tune.ts";
import { tightened } from "./verify.ts";

export interface ScheduleResult {
	/** Whose angle the gains follow. */
	readonly hinge: string;
	/** With its schedule; null where there is none. */
	readonly gainSet: GainSet | null;
	readonly breakpoints: readonly Pick<Breakpoint, "poseRad" | "loadKg" | "tuned">[];
	/** Empty, or the pose and load at which no gains keep the limits, and why. */
	readonly why: string;
	/** Poses and loads, breakpoints and half-way between them, at which the interpolated gains were held against every limit in every corner. */
	readonly checked: number;
}

export interface Progress {
	readonly done: number;
	readonly of: number;
	readonly doing: string;
}

/** Poses and loads of the coarse grid and of the finer one, tried in turn. */
const GRIDS = [
	{ poses: 3, loads: 2 },
	{ poses: 5, loads: 3 },
] as const;
/** How often limits are tightened on one grid. */
const ROUNDS = 4;
/** Tightened by so much more than was missed, so that few rounds do. */
const MORE = 0.003;

/**
 * Gains over poses and loads of the reach arm. Each breakpoint is tuned in every corner at its own pose and load and half-way to its neighbours, so that two neighbours' gains both
 * serve where one goes over into the other; then the interpolated gains, every loop closed, are held against the limits at every breakpoint and half-way between. Where one is missed, the
 * breakpoints around it are tuned again to a tighter one; a finer grid comes after that. Deterministic; yields after each piece of work.
 * @throws RangeError for a craft without a limb
 */
export function* tuneSchedule(craft: Craft, options: TuneOptions): Generator<Progress, ScheduleResult> {
	const hinge = craft.limb?.links[0]?.name;
	if (hinge === undefined)
		throw new RangeError("tuneSchedule: craft.limb is not there, expected a craft with a limb");
	const limits = limitsOf(options.character, options.limits);
	const quick = { ...options, alternatives: false };
	let breakpoints: readonly Breakpoint[] = [];
	let why = "";
	for (const { poses, loads } of GRIDS) {
		const grid = scheduleGrid(craft, poses, loads, limits);
		const all = placesOf(craft, grid);
		breakpoints = grid.points;
		let due: readonly Breakpoint[] = grid.points;
		for (let round = 0; round < ROUNDS; round++) {
			why = yield* tuneAll(craft, quick, due, round);
			if (why !== "") break;
			const gainSet = scheduledSet(hinge, options.name ?? "A", grid);
			// Elsewhere the gains are what they were, and kept every limit.
			const places = all.filter(({ of }) => of.some((point) => due.includes(point)));
			const misses = yield* missesOf(craft, gainSet, limits, places);
			if (misses.length === 0) return { hinge, gainSet, breakpoints, why: "", checked: all.length };
			why = `between ${breakpoints.length} breakpoints the interpolated gains do not keep every limit: ${misses[0]!.words}`;
			due = tighten(misses);
		}
		const hopeless = breakpoints.find(({ tuned }) => tuned?.feasible === false);
		const alone =
			hopeless && tune(craft, { ...quick, corners: cornersAt(craft, hopeless.poseRad, hopeless.loadKg) });
		if (alone?.feasible === false)
			return {
				hinge,
				gainSet: null,
				breakpoints,
				why: `not even gains of its own serve ${nameAt(craft, hopeless!.poseRad, hopeless!.loadKg)}: ${whyOf(alone)}`,
				checked: 0,
			};
	}
	return { hinge, gainSet: null, breakpoints, why, checked: 0 };
}

const whyOf = ({ axes }: TuneResult): string =>
	AXES.map((axis) => axes[axis].why)
		.filter((why) => why !== "")
		.join("; ");

/** @returns empty, or which breakpoint has no gains and why */
function* tuneAll(
	craft: Craft,
	options: TuneOptions,
	due: readonly Breakpoint[],
	round: number,
): Generator<Progress, string> {
	for (const [i, point] of due.entries()) {
		point.tuned = tune(craft, { ...options, limits: { ...point.limits }, corners: point.corners });
		yield { done: i + 1, of: due.length, doing: round === 0 ? "gains" : "gains again" };
		if (!point.tuned.feasible)
			return `no gains serve ${nameAt(craft, point.poseRad, point.loadKg)} and half-way to its neighbours: ${whyOf(point.tuned)}`;
	}
	return "";
}

/** The set of the folded, empty limb, and factors on it; a gain that is 0 there stands at its largest instead. */
function scheduledSet(hinge: string, name: string, { poses, loadsKg, points }: Grid): GainSet {
	const sets = points.map(({ tuned }) => tuned!.gainSet!);
	const home = points.findIndex(({ poseRad, loadKg }) => isFolded(poseRad) && loadKg === 0);
	const own = sets[Math.max(0, home)]!;
	const axes = AXES.map((axis) => {
		const gains = { ...own[axis] };
		const factors = {} as Record<(typeof SCHEDULED_GAINS)[number], number[][]>;
		for (const gain of SCHEDULED_GAINS) {
			const values = sets.map((set) => set[axis][gain]);
			if (gains[gain] === 0) gains[gain] = Math.max(...values);
			const over = gains[gain];
			factors[gain] = poses.map((_, i) =>
				loadsKg.map((_, j) => (over === 0 ? 1 : values[i * loadsKg.length + j]! / over)),
			);
		}
		gains.rateLimitRadPerSec = Math.min(...sets.map((set) => set[axis].rateLimitRadPerSec));
		return { gains, factors };
	});
	const [roll, pitch, yaw] = axes as [(typeof axes)[0], (typeof axes)[0], (typeof axes)[0]];
	const schedule: GainSchedule = {
		link: 0,
		hinge,
		anglesRad: poses.map((pose) => pose[0]!),
		loadsKg,
		factors: { roll: roll.factors, pitch: pitch.factors, yaw: yaw.factors },
	};
	return { ...own, name, roll: roll.gains, pitch: pitch.gains, yaw: yaw.gains, schedule };
}

interface Miss {
	readonly place: Place;
	readonly broken: Broken;
	/** Relative. */
	readonly missed: number;
	readonly words: string;
}

/** What the interpolated gains miss with every loop closed, the worst of each limit at each place. */
function* missesOf(
	craft: Craft,
	set: GainSet,
	limits: Limits,
	places: readonly Place[],
): Generator<Progress, Miss[]> {
	const misses: Miss[] = [];
	for (const [i, place] of places.entries()) {
		const worst = new Map<string, Miss>();
		for (const { name, point } of place.corners) {
			const found = marginsBrief(craft, set, point);
			for (const broken of found.feasible ? brokenMargins(found.brief, limits) : []) {
				const key = broken.of ?? "stable";
				const missed = broken.of ? Math.abs(broken.value / broken.limit - 1) : 0.1;
				if (missed <= (worst.get(key)?.missed ?? 0)) continue;
				const [value, limit] = [broken.value, broken.limit].map((x) => Number(x.toPrecision(3)));
				worst.set(key, { place, broken, missed, words: `${broken.what} ${value}, limit ${limit} (${name})` });
			}
		}
		misses.push(...worst.values());
		yield { done: i + 1, of: places.length, doing: "between breakpoints" };
	}
	return misses.sort((a, b) => b.missed - a.missed);
}

/** Tightens the limits of the breakpoints around each miss. @returns those that are to be tuned again */
function tighten(misses: readonly Miss[]): Breakpoint[] {
	const due = new Map<Breakpoint, Map<keyof Limits, number>>();
	for (const { place, broken, missed } of misses)
		for (const point of place.of) {
			const asked = due.get(point) ?? new Map<keyof Limits, number>();
			due.set(point, asked);
			const of = broken.of ?? "ms";
			asked.set(of, Math.max(asked.get(of) ?? 0, missed + MORE));
		}
	for (const [point, asked] of due)
		point.limits = tightened(
			point.limits,
			Array.from(asked, ([limit, missed]) => ({ limit, missed })),
		);
	return [...due.keys()];
}
