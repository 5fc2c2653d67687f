import { findMinimum, findRoot } from "../math/search.ts";
import { findCrossings, phaseCrossing } from "./crossings.ts";
import { type LoopGrid, scanLoop } from "./scalar-loop-grid.ts";
import type {
	Crossing,
	GainCrossing,
	Margin,
	PhaseCrossing,
	ScalarLoop,
	ScalarLoopResult,
} from "./scalar-loop-types.ts";

/** Margins of one loop; definitions in `ScalarLoopResult`. */
export function analyseScalarLoop(loop: ScalarLoop): ScalarLoopResult {
	const grid = scanLoop(loop);
	const crossings = [...atTheEnds(loop), ...findCrossings(grid, loop.respond)].sort(
		(a, b) => a.radPerSec - b.radPerSec,
	);
	const gains = crossings.filter((c): c is GainCrossing => c.kind === "gain");
	const phases = crossings.filter((c): c is PhaseCrossing => c.kind === "phase");
	const why = loop.stable ? "" : (loop.whyUnstable ?? "the closed loop is unstable");
	const ifStable = (margin: () => Margin): Margin => (loop.stable ? margin() : none(why, "undefined"));
	const ms = ifStable(() => peakSensitivity(loop, grid));
	return {
		stable: loop.stable,
		why,
		crossings,
		gainMarginUpDb: ifStable(() => gainMargin(phases, 1)),
		gainMarginDownDb: ifStable(() => gainMargin(phases, -1)),
		phaseMarginDeg: ifStable(() =>
			least(gains, (c) => Math.abs(c.marginDeg), "|L| never meets 1, so no phase lag brings it to -1"),
		),
		delayMarginSec: ifStable(() =>
			loop.periodSec === undefined && Math.abs(loop.atInfinity ?? 0) >= 1
				? { value: 0, radPerSec: Number.POSITIVE_INFINITY }
				: least(gains, (c) => c.delaySec, "|L| never meets 1, so no delay brings it to -1"),
		),
		crossoverRadPerSec: highest(gains),
		bandwidthRadPerSec: ifStable(() => bandwidth(loop, grid)),
		ms,
		mt: ifStable(() => peakComplementary(loop, grid)),
		stabilityRadius: ms.value === null ? ms : { value: 1 / ms.value, radPerSec: ms.radPerSec },
	};
}

const none = (why: string, verdict: "satisfied" | "undefined"): Margin => ({
	value: null,
	radPerSec: null,
	why,
	verdict,
});

/** Phase crossings at frequency 0 and at infinity, where L is real. */
function atTheEnds(loop: ScalarLoop): Crossing[] {
	const ends: Crossing[] = [];
	if (typeof loop.atZero === "number" && loop.atZero < 0) ends.push(phaseCrossing(0, -loop.atZero));
	if (loop.atInfinity !== undefined && loop.atInfinity < 0)
		ends.push(phaseCrossing(Number.POSITIVE_INFINITY, -loop.atInfinity));
	return ends;
}

function gainMargin(phases: readonly PhaseCrossing[], side: 1 | -1): Margin {
	const onSide = phases.filter((c) => side * c.marginDb > 0);
	const way = side > 0 ? "raised" : "lowered";
	return least(onSide, (c) => side * c.marginDb, `gain can be ${way} without L ever meeting -1`);
}

function least<C extends Crossing>(list: readonly C[], size: (c: C) => number, why: string): Margin {
	let best: C | null = null;
	for (const c of list) if (best === null || size(c) < size(best)) best = c;
	return best === null ? none(why, "satisfied") : { value: size(best), radPerSec: best.radPerSec };
}

function highest(gains: readonly GainCrossing[]): Margin {
	const last = gains[gains.length - 1];
	if (last === undefined) return none("|L| never meets 1 in the scanned range", "satisfied");
	return { value: last.radPerSec, radPerSec: last.radPerSec };
}

type Measure = (re: number, im: number) => number;

const sensitivity: Measure = (re, im) => 1 / Math.hypot(1 + re, im);
const complementary: Measure = (re, im) => Math.hypot(re, im) / Math.hypot(1 + re, im);

function peakSensitivity(loop: ScalarLoop, grid: LoopGrid): Margin {
	const ends: [number, number][] = [];
	if (typeof loop.atZero === "number") ends.push([0, sensitivity(loop.atZero, 0)]);
	if (loop.periodSec === undefined)
		ends.push([Number.POSITIVE_INFINITY, sensitivity(loop.atInfinity ?? 0, 0)]);
	return peak(loop, grid, sensitivity, ends);
}

function peakComplementary(loop: ScalarLoop, grid: LoopGrid): Margin {
	const ends: [number, number][] = [[0, complementaryAtZero(loop, grid)]];
	if (loop.periodSec === undefined)
		ends.push([Number.POSITIVE_INFINITY, complementary(loop.atInfinity ?? 0, 0)]);
	return peak(loop, grid, complementary, ends);
}

function complementaryAtZero(loop: ScalarLoop, grid: LoopGrid): number {
	if (loop.atZero === "infinite") return 1;
	if (loop.atZero !== undefined) return complementary(loop.atZero, 0);
	return complementary(grid.re[0]!, grid.im[0]!);
}

/** Largest value: at an end of the axis, on the grid, or refined about the grid's best summits. */
function peak(loop: ScalarLoop, grid: LoopGrid, measure: Measure, ends: readonly [number, number][]): Margin {
	const { omega, re, im } = grid;
	const values = omega.map((_, i) => measure(re[i]!, im[i]!));
	let best = 0;
	for (const v of values) best = Math.max(best, v);
	let value = 0;
	let radPerSec = 0;
	const offer = (v: number, w: number): void => {
		if (v > value) [value, radPerSec] = [v, w];
	};
	for (const [w, v] of ends) offer(v, w);
	const out = new Float64Array(2);
	const negated = (w: number): number => {
		loop.respond(w, out);
		return -measure(out[0]!, out[1]!);
	};
	for (let i = 0; i < values.length; i++) {
		const v = values[i]!;
		const summit = v >= (values[i - 1] ?? 0) && v >= (values[i + 1] ?? 0);
		if (!summit || v < 0.9 * best) continue;
		// Only a gain beyond rounding counts, so that a level stretch does not name a chance frequency.
		if (v > value * (1 + 1e-12)) offer(v, omega[i]!);
		const low = omega[Math.max(0, i - 1)]!;
		const high = omega[Math.min(omega.length - 1, i + 1)]!;
		const [w, least] = findMinimum(negated, low, high);
		if (-least > value * (1 + 1e-12)) offer(-least, w);
	}
	return { value, radPerSec };
}

function bandwidth(loop: ScalarLoop, grid: LoopGrid): Margin {
	const level = complementaryAtZero(loop, grid) * Math.SQRT1_2;
	if (level === 0) return none("L is 0 at low frequency, so there is no level to fall from", "satisfied");
	const out = new Float64Array(2);
	const above = (w: number): number => {
		loop.respond(w, out);
		return Math.log(complementary(out[0]!, out[1]!) / level);
	};
	for (let i = 1; i < grid.omega.length; i++) {
		const here = complementary(grid.re[i]!, grid.im[i]!);
		const before = complementary(grid.re[i - 1]!, grid.im[i - 1]!);
		if (!(before >= level && here < level)) continue;
		const w = before === level ? grid.omega[i - 1]! : findRoot(above, grid.omega[i - 1]!, grid.omega[i]!);
		return { value: w, radPerSec: w };
	}
	return none("|L/(1+L)| never falls 3 dB below its value at low frequency", "satisfied");
}
