import { corners as cornersOf } from "../analysis/corners.ts";
import { type Craft, NOMINAL_POINT } from "../craft/model.ts";
import type { Limits } from "./characters.ts";
import { cornersAt, nameAt } from "./reach-corners.ts";
import { frozenPoses, reachPoses } from "./reach-pose.ts";
import type { TuneCorner, TuneResult } from "./result.ts";

/** One pose and load that gets gains of its own. */
export interface Breakpoint {
	readonly poseRad: readonly number[];
	readonly loadKg: number;
	/** In which its gains are sought: its own, and those half-way to its neighbours. */
	readonly corners: readonly TuneCorner[];
	/** The character's, tightened where the gains between breakpoints have missed one. */
	limits: Limits;
	tuned: TuneResult | null;
}

export interface Grid {
	readonly poses: readonly (readonly number[])[];
	readonly loadsKg: readonly number[];
	/** Row by row of poses. */
	readonly points: readonly Breakpoint[];
}

/** Poses from one end of the travel to the other, ascending in the first hinge's angle, with loads from none to the heaviest. */
export function scheduleGrid(craft: Craft, poseCount: number, loadCount: number, limits: Limits): Grid {
	const { massKg } = craft.load;
	const count = massKg > 0 ? loadCount : 1;
	const poses = reachPoses(craft, poseCount)
		.filter(({ refused }) => refused === "")
		.map(({ poseRad }) => poseRad)
		.sort((a, b) => a[0]! - b[0]!);
	const loadsKg = Array.from({ length: count }, (_, i) => (count > 1 ? (massKg * i) / (count - 1) : 0));
	const loads = loadsKg.map((kg) => [kg]);
	const points = poses.flatMap((poseRad, i) =>
		loadsKg.map((loadKg, j): Breakpoint => {
			const near = around(poses, i).flatMap((pose) =>
				around(loads, j).flatMap(([kg]) => cornersAt(craft, pose, kg!)),
			);
			return {
				poseRad,
				loadKg,
				corners: isFolded(poseRad) ? [...near, ...fullThrottle(craft, loadKg)] : near,
				limits,
				tuned: null,
			};
		}),
	);
	return { poses, loadsKg, points };
}

export const isFolded = (poseRad: readonly number[]): boolean => poseRad.every((angle) => angle === 0);

/** Where gains are judged, and the breakpoints that they are made of there. */
export interface Place {
	readonly poseRad: readonly number[];
	readonly loadKg: number;
	readonly of: readonly Breakpoint[];
	/** In which they must keep the limits. */
	readonly corners: readonly TuneCorner[];
}

/**
 * Every breakpoint and every place half-way between neighbours, of poses, of loads and of both, in all corners; and those poses again, finer, that the proof freezes, at the
 * nominal point.
 */
export function placesOf(craft: Craft, { poses, loadsKg, points }: Grid): Place[] {
	const columns = withMiddles(loadsKg.map((kg) => [kg]));
	const place = (
		pose: readonly number[],
		rows: readonly number[],
		[loadKg]: readonly number[],
		of: readonly number[],
	) => ({
		poseRad: pose,
		loadKg: loadKg!,
		of: rows.flatMap((i) => of.map((j) => points[i * loadsKg.length + j]!)),
	});
	const coarse = withMiddles(poses).flatMap((row) =>
		columns.map((column) => {
			const at = place(row.value, row.of, column.value, column.of);
			return { ...at, corners: cornersAt(craft, at.poseRad, at.loadKg) };
		}),
	);
	const fine = frozenPoses(craft).flatMap(({ poseRad }) =>
		columns.map((column) => {
			const next = poses.findIndex((pose) => pose[0]! >= poseRad[0]! - 1e-9);
			const at = place(poseRad, next > 0 ? [next - 1, next] : [Math.max(0, next)], column.value, column.of);
			const load = at.loadKg > 0 ? { massKg: at.loadKg } : ("none" as const);
			const point = { ...NOMINAL_POINT, limbRad: poseRad, load };
			return { ...at, corners: [{ name: nameAt(craft, poseRad, at.loadKg), point }] };
		}),
	);
	return [...coarse, ...fine];
}

/** The entry itself and the middles towards its neighbours. */
function around(list: readonly (readonly number[])[], at: number): (readonly number[])[] {
	const beside = [list[at - 1], list[at + 1]].filter((each) => each !== undefined);
	return [list[at]!, ...beside.map((each) => middle(list[at]!, each))];
}

function withMiddles(list: readonly (readonly number[])[]) {
	return list.flatMap((value, i) => {
		const next = list[i + 1];
		const own = { value, of: [i] };
		return next ? [own, { value: middle(value, next), of: [i, i + 1] }] : [own];
	});
}

const middle = (a: readonly number[], b: readonly number[]): number[] =>
	a.map((value, k) => (value + b[k]!) / 2);

/** Full throttle is flown with the limb folded. */
const fullThrottle = (craft: Craft, loadKg: number): TuneCorner[] =>
	cornersOf(craft)
		.filter(({ point }) => point.throttle === "full" && point.load === (loadKg > 0 ? "heaviest" : "none"))
		.map(({ name, point }) => ({
			name: `${name}, folded`,
			point: { ...point, load: loadKg > 0 ? { massKg: loadKg } : ("none" as const) },
		}));
