import type { AxisPlant } from "../analysis/axis-plant.ts";
import { axisPlantsOf } from "../analysis/axis-plants.ts";
import { closeLoop, polesOutside } from "../analysis/closed-loop.ts";
import { judgedYaw } from "../analysis/held-axis.ts";
import { linearise } from "../analysis/linearise.ts";
import { createScanResult, type ScanResult, scanMargins } from "../analysis/margins-scan.ts";
import { timingChain } from "../analysis/timing-chain.ts";
import { LOOP_WEIGHTS, loopWeights } from "../control/axis-response.ts";
import type { AxisName, FixedGainSet, GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { gainsAt } from "../physics/gains-at.ts";
import { fillLoops, type Loops, leastReturn, loopProducts, lowAngle } from "./loop-products.ts";
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

/** One axis at one point on a fixed grid. */
interface PointTable {
	readonly point: OperatingPoint;
	readonly plant: AxisPlant;
	readonly omega: Float64Array;
	/** Six numbers a frequency: rate/u, angle/u, rate/u with drift left out. */
	readonly answers: Float64Array;
	/** By filters and f_d. */
	readonly products: Map<string, Float64Array>;
	/** By which loops integrate: arg(1 + L) at the lowest frequency when stable. */
	readonly stableAngles: Map<string, number>;
	readonly loops: Loops;
}

/**
 * Margins for many gain sets on few craft: what belongs to a craft is kept as long as its object is, which is never changed after
 * it is made. Answers do not depend on what was asked before.
 */
export function createMarginCells(axis: AxisName, points: readonly OperatingPoint[]) {
	const known = new WeakMap<Craft, Map<string, PointTable[] | string>>();
	const scan = createScanResult();
	return (craft: Craft, set: GainSet): MarginAnswer => {
		const kept = known.get(craft) ?? new Map<string, PointTable[] | string>();
		known.set(craft, kept);
		const key = axis === "yaw" ? heldBy(set) : "";
		let tables = kept.get(key);
		if (tables === undefined) {
			if (kept.size >= MOST_HOLDERS) kept.clear();
			tables = makeTables(craft, axis, points, set);
			kept.set(key, tables);
		}
		return typeof tables === "string" ? { why: tables } : worstOf(craft, tables, axis, set, scan);
	};
}

/** Sets whose roll and pitch hold yaw, kept for a craft. */
const MOST_HOLDERS = 4;

/** All that yaw's plant may depend on of a set: the loops that hold roll and pitch. */
const heldBy = ({ roll, pitch, filters, structure, schedule }: GainSet): string =>
	JSON.stringify([roll, pitch, filters, structure, schedule]);

function makeTables(
	craft: Craft,
	axis: AxisName,
	points: readonly OperatingPoint[],
	set: GainSet,
): PointTable[] | string {
	const chain = timingChain(craft.timing);
	const tables: PointTable[] = [];
	for (const point of points) {
		const found = linearise(craft, point);
		if (!found.feasible) return found.reason;
		const alone = axisPlantsOf(found.linear, chain)[axis];
		const plant =
			axis === "yaw" ? judgedYaw(found.linear, chain, alone, gainsAt(craft, set, point)).plant : alone;
		const omega = plantGrid(plant, LOWEST_RAD_PER_SEC, POINTS_PER_DECADE);
		const n = omega.length;
		const answers = new Float64Array(6 * n);
		for (let i = 0; i < n; i++) plant.respond(omega[i]!, answers.subarray(6 * i, 6 * i + 6));
		const three = (): Loops["re"] => [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
		tables.push({
			point,
			plant,
			omega,
			answers,
			products: new Map(),
			stableAngles: new Map(),
			loops: { re: three(), im: three() },
		});
	}
	return tables;
}

/** Nothing of an unstable loop has a meaning. */
const UNSTABLE: MarginNumbers = {
	stable: false,
	stabilityRadius: 0,
	rateLoopMs: Infinity,
	phaseMarginDeg: Infinity,
	gainMarginUpDb: Infinity,
	gainMarginDownDb: Infinity,
	delayMarginSec: Infinity,
	crossoverRadPerSec: Infinity,
};

function worstOf(
	craft: Craft,
	tables: PointTable[],
	axis: AxisName,
	gainSet: GainSet,
	scan: ScanResult,
): MarginNumbers {
	const angleLoop =
		axis !== "yaw" &&
		(gainSet.structure === "anglePid" ||
			(gainSet.structure === "cascade" && (gainSet[axis].kAngle !== 0 || gainSet[axis].kAngleI !== 0)));
	const single = gainSet.structure === "anglePid" && axis !== "yaw";
	const worst = {
		ms: 0,
		rateLoopMs: 0,
		phaseMarginDeg: Infinity,
		gainMarginUpDb: Infinity,
		gainMarginDownDb: Infinity,
		delayMarginSec: Infinity,
		crossover: Infinity,
	};
	const key = JSON.stringify([gainSet.filters, gainSet[axis].derivativeCutoffHz, gainSet.structure]);
	for (const [i, table] of tables.entries()) {
		const set = gainsAt(craft, gainSet, table.point);
		loopWeights(set[axis], set.structure, axis, weights);
		fillLoops(productsOf(table, key, set), weights, table.loops);
		if (!isStable(table, set, angleLoop)) {
			// Neighbours break in the same corner: asked first, it spares them the others. The worst is the worst in any order.
			tables.splice(i, 1);
			tables.unshift(table);
			return UNSTABLE;
		}
		for (let o = 0; o < (angleLoop ? 3 : 1); o++) {
			scanMargins(table.omega, table.loops.re[o]!, table.loops.im[o]!, scan);
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
		stable: true,
		stabilityRadius: 1 / worst.ms,
		rateLoopMs: worst.rateLoopMs,
		phaseMarginDeg: worst.phaseMarginDeg,
		gainMarginUpDb: worst.gainMarginUpDb,
		gainMarginDownDb: worst.gainMarginDownDb,
		delayMarginSec: worst.delayMarginSec,
		crossoverRadPerSec: worst.crossover,
	};
}

/** Sets of filters kept for a table. */
const MOST_PRODUCTS = 4;

function productsOf(table: PointTable, key: string, set: FixedGainSet): Float64Array {
	let products = table.products.get(key);
	if (!products) {
		if (table.products.size >= MOST_PRODUCTS) table.products.clear();
		products = loopProducts(table.plant, set, table.omega, table.answers);
		table.products.set(key, products);
	}
	return products;
}

const weights = new Float64Array(LOOP_WEIGHTS);

/** Nyquist angle of 1 + L (whole axis, or the rate loop where there is no other) against one that eigenvalues have judged. */
function isStable(table: PointTable, set: FixedGainSet, angleLoop: boolean): boolean {
	const o = angleLoop ? 1 : 0;
	const gains = set[table.plant.axis];
	const key = `${set.structure} ${angleLoop} ${gains.ki !== 0} ${gains.kAngleI !== 0} ${gains.kAngle !== 0} ${gains.kp !== 0}`;
	const re = table.loops.re[o]!;
	const im = table.loops.im[o]!;
	const clear = leastReturn(re, im) > CLEAR * CLEAR;
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
