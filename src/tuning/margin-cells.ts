import type { AxisPlant } from "../analysis/axis-plant.ts";
import { axisPlantsOf } from "../analysis/axis-plants.ts";
import { closeLoop, polesOutside } from "../analysis/closed-loop.ts";
import { linearise } from "../analysis/linearise.ts";
import { createScanResult, type ScanResult, scanMargins } from "../analysis/margins-scan.ts";
import { timingChain } from "../analysis/timing-chain.ts";
import { ANSWER, combineParts, controlParts } from "../control/axis-response.ts";
import type { AxisName, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { plantGrid } from "./plant-grid.ts";

/** The worst of several points; numbers without a crossing are Infinity. */
export interface MarginNumbers {
	readonly stable: boolean;
	/** 1 / the largest Ms of all openings. */
	readonly stabilityRadius: number;
	readonly rateLoopMs: number;
	readonly phaseMarginDeg: number;
	readonly gainMarginUpDb: number;
	readonly gainMarginDownDb: number;
	readonly delayMarginSec: number;
	/** Rate loop (single angle PID: whole axis). */
	readonly crossoverRadPerSec: number;
}

export type MarginAnswer = MarginNumbers | { readonly why: string };

const LOWEST_RAD_PER_SEC = 0.05;
const POINTS_PER_DECADE = 48;

/** Rate loop, whole axis, angle loop. */
type Loops = readonly [Float64Array, Float64Array, Float64Array];

/** One axis at one point on a fixed grid. */
interface PointTable {
	readonly plant: AxisPlant;
	readonly omega: Float64Array;
	/** Six numbers a frequency: rate/u, angle/u, rate/u with drift left out. */
	readonly answers: Float64Array;
	/** By filters and f_d: six numbers a frequency of `ControlParts`. */
	readonly parts: Map<string, Float64Array>;
	/** By which loops integrate: arg(1 + L) at the lowest frequency when stable. */
	readonly stableAngles: Map<string, number>;
	readonly re: Loops;
	readonly im: Loops;
}

/**
 * Margins for many gain sets on few craft: what belongs to a craft is kept as long as its object is, which is never changed after
 * it is made. Answers do not depend on what was asked before.
 */
export function createMarginCells(axis: AxisName, points: readonly OperatingPoint[]) {
	const known = new WeakMap<Craft, readonly PointTable[] | string>();
	const scan = createScanResult();
	return (craft: Craft, set: GainSet): MarginAnswer => {
		const tables = known.get(craft) ?? makeTables(craft, axis, points);
		known.set(craft, tables);
		return typeof tables === "string" ? { why: tables } : worstOf(tables, axis, set, scan);
	};
}

function makeTables(craft: Craft, axis: AxisName, points: readonly OperatingPoint[]): PointTable[] | string {
	const chain = timingChain(craft.timing);
	const tables: PointTable[] = [];
	for (const point of points) {
		const found = linearise(craft, point);
		if (!found.feasible) return found.reason;
		const plant = axisPlantsOf(found.linear, chain)[axis];
		const omega = plantGrid(plant, LOWEST_RAD_PER_SEC, POINTS_PER_DECADE);
		const n = omega.length;
		const answers = new Float64Array(6 * n);
		for (let i = 0; i < n; i++) plant.respond(omega[i]!, answers.subarray(6 * i, 6 * i + 6));
		const loops = (): Loops => [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
		tables.push({
			plant,
			omega,
			answers,
			parts: new Map(),
			stableAngles: new Map(),
			re: loops(),
			im: loops(),
		});
	}
	return tables;
}

function worstOf(
	tables: readonly PointTable[],
	axis: AxisName,
	set: GainSet,
	scan: ScanResult,
): MarginNumbers {
	const angleLoop =
		axis !== "yaw" &&
		(set.structure === "anglePid" ||
			(set.structure === "cascade" && (set[axis].kAngle !== 0 || set[axis].kAngleI !== 0)));
	const single = set.structure === "anglePid" && axis !== "yaw";
	const worst = {
		stable: true,
		ms: 0,
		rateLoopMs: 0,
		phaseMarginDeg: Infinity,
		gainMarginUpDb: Infinity,
		gainMarginDownDb: Infinity,
		delayMarginSec: Infinity,
		crossover: Infinity,
	};
	for (const table of tables) {
		fillLoops(table, axis, set);
		if (!isStable(table, set, angleLoop)) {
			worst.stable = false;
			break;
		}
		for (let o = 0; o < (angleLoop ? 3 : 1); o++) {
			scanMargins(table.omega, table.re[o]!, table.im[o]!, scan);
			worst.ms = Math.max(worst.ms, scan.ms);
			worst.phaseMarginDeg = Math.min(worst.phaseMarginDeg, scan.phaseMarginDeg);
			worst.gainMarginUpDb = Math.min(worst.gainMarginUpDb, scan.gainMarginUpDb);
			worst.gainMarginDownDb = Math.min(worst.gainMarginDownDb, scan.gainMarginDownDb);
			worst.delayMarginSec = Math.min(worst.delayMarginSec, scan.delayMarginSec);
			if (o === 0) worst.rateLoopMs = Math.max(worst.rateLoopMs, scan.ms);
			if (o === (single ? 1 : 0)) worst.crossover = Math.min(worst.crossover, scan.crossoverRadPerSec);
		}
	}
	return {
		stable: worst.stable,
		stabilityRadius: worst.stable ? 1 / worst.ms : 0,
		rateLoopMs: worst.rateLoopMs,
		phaseMarginDeg: worst.phaseMarginDeg,
		gainMarginUpDb: worst.gainMarginUpDb,
		gainMarginDownDb: worst.gainMarginDownDb,
		delayMarginSec: worst.delayMarginSec,
		crossoverRadPerSec: worst.crossover,
	};
}

function partsOf(table: PointTable, axis: AxisName, set: GainSet): Float64Array {
	const key = JSON.stringify([set.filters, set[axis].derivativeCutoffHz, set.structure]);
	let parts = table.parts.get(key);
	if (parts) return parts;
	const { plant, omega } = table;
	const source = controlParts({
		anglePid: set.structure === "anglePid" && axis !== "yaw",
		filters: set.filters,
		derivativeCutoffHz: set[axis].derivativeCutoffHz,
		periodSec: plant.periodSec,
		rateSpacingSec: plant.rateSpacingSec,
	});
	parts = new Float64Array(6 * omega.length);
	for (let i = 0; i < omega.length; i++) source.respond(omega[i]!, parts.subarray(6 * i, 6 * i + 6));
	if (table.parts.size > 8) table.parts.clear();
	table.parts.set(key, parts);
	return parts;
}

const part = new Float64Array(6);
const law = new Float64Array(ANSWER.length);

/** L of the three loops into re and im; as `axisLoops` defines them. */
function fillLoops(table: PointTable, axis: AxisName, set: GainSet): void {
	const parts = partsOf(table, axis, set);
	const { answers: g, omega } = table;
	const [rateRe, wholeRe, angleRe] = table.re;
	const [rateIm, wholeIm, angleIm] = table.im;
	const gains = set[axis];
	for (let i = 0; i < omega.length; i++) {
		const at = 6 * i;
		for (let k = 0; k < 6; k++) part[k] = parts[at + k]!;
		combineParts(gains, set.structure, axis, part, law);
		const cr = -law[0]!;
		const ci = -law[1]!;
		const ar = -law[2]!;
		const ai = -law[3]!;
		rateRe[i] = cr * g[at + 4]! - ci * g[at + 5]!;
		rateIm[i] = cr * g[at + 5]! + ci * g[at + 4]!;
		const lr = cr * g[at]! - ci * g[at + 1]!;
		const li = cr * g[at + 1]! + ci * g[at]!;
		const xr = ar * g[at + 2]! - ai * g[at + 3]!;
		const xi = ar * g[at + 3]! + ai * g[at + 2]!;
		wholeRe[i] = lr + xr;
		wholeIm[i] = li + xi;
		const size = (1 + lr) * (1 + lr) + li * li;
		angleRe[i] = (xr * (1 + lr) + xi * li) / size;
		angleIm[i] = (xi * (1 + lr) - xr * li) / size;
	}
}

/** Nyquist angle of 1 + L (whole axis, or the rate loop where there is no other) against one that eigenvalues have judged. */
function isStable(table: PointTable, set: GainSet, angleLoop: boolean): boolean {
	const o = angleLoop ? 1 : 0;
	const gains = set[table.plant.axis];
	const key = `${set.structure} ${angleLoop} ${gains.ki !== 0} ${gains.kAngleI !== 0} ${gains.kAngle !== 0} ${gains.kp !== 0}`;
	const re = table.re[o]!;
	const im = table.im[o]!;
	let least = Infinity;
	for (let i = 0; i < re.length; i++) least = Math.min(least, (1 + re[i]!) * (1 + re[i]!) + im[i]! * im[i]!);
	const clear = least > CLEAR * CLEAR;
	let stable = clear ? table.stableAngles.get(key) : undefined;
	if (stable === undefined) {
		const outside = polesOutside(closeLoop(angleLoop ? table.plant : withoutDrift(table.plant), set));
		// Near -1 the grid may pass on the wrong side: the poles alone decide.
		if (!clear) return outside === 0;
		stable = lowAngle(re, im) - Math.PI * outside;
		table.stableAngles.set(key, stable);
	}
	return Math.abs(lowAngle(re, im) - stable) < Math.PI;
}

/** |1 + L| above which neighbours on the grid cannot lie on different sides of -1 unseen. */
const CLEAR = 0.2;

const withoutDrift = (plant: AxisPlant): AxisPlant => ({ ...plant, sampled: plant.sampledRate });

/** arg(1 + L) at the lowest frequency, followed down from pi/T where it is 0 or pi. */
function lowAngle(re: Float64Array, im: Float64Array): number {
	let angle = 1 + re[re.length - 1]! >= 0 ? 0 : Math.PI;
	let x1 = 1 + re[re.length - 1]!;
	let y1 = im[im.length - 1]!;
	for (let i = re.length - 2; i >= 0; i--) {
		const x0 = 1 + re[i]!;
		const y0 = im[i]!;
		angle += Math.atan2(y0 * x1 - x0 * y1, x0 * x1 + y0 * y1);
		x1 = x0;
		y1 = y0;
	}
	return angle;
}
