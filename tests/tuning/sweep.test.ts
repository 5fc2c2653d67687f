import { expect, test } from "vitest";
import { corners } from "../../src/analysis/corners.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { STILL_AIR } from "../../src/flight/drill.ts";
import {
	cellCount,
	cellValues,
	createSweepCells,
	type ResolveCell,
	SWEEP_COLUMNS,
	type Sweep,
} from "../../src/tuning/sweep.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const craft = sampleCraft();
const base = sampleGains();
const resolve: ResolveCell = ([kp, ki]) => {
	if (kp! > 90) return { error: "kp too large" };
	// A new object every time, as a file that is read again gives.
	return { craft: sampleCraft(), set: { ...base, roll: { ...base.roll, kp: kp!, ki: ki ?? base.roll.ki } } };
};
const plane = (points = [NOMINAL_POINT]): Sweep => ({
	axes: [
		{ path: "gainSets.A.roll.kp", values: [0.02, 0.1, 0.4, 3] },
		{ path: "gainSets.A.roll.ki", values: [0, 0.1, 0.8] },
	],
	measure: { kind: "margins", axis: "roll", points },
});
const column = (name: (typeof SWEEP_COLUMNS.margins)[number]): number => SWEEP_COLUMNS.margins.indexOf(name);

test("cells run row by row", () => {
	expect(cellCount(plane())).toBe(12);
	expect(cellValues(plane(), 0)).toEqual([0.02, 0]);
	expect(cellValues(plane(), 5)).toEqual([0.1, 0.8]);
});

test("the same bytes in one run or in pieces, in any order", () => {
	const whole = createSweepCells(plane(), resolve)(0, 12);
	const pieces = [
		[7, 5],
		[0, 3],
		[3, 4],
	].map(([first, count]) => createSweepCells(plane(), resolve)(first!, count!));
	const joined = pieces.flat().sort((a, b) => a.index - b.index);
	expect(JSON.stringify(joined)).toBe(JSON.stringify(whole));
});

test("a cell equals the full analysis of its gains", () => {
	const cells = createSweepCells(plane(), resolve)(0, 12);
	let stable = 0;
	for (const cell of cells) {
		const resolved = resolve(cell.values);
		if ("error" in resolved) throw new Error(resolved.error);
		const found = marginsReport(resolved.craft, resolved.set, NOMINAL_POINT);
		if (!found.feasible) throw new Error(found.reason);
		const { rateLoop, angleLoop, wholeAxis } = found.report.axes.roll;
		expect(cell.numbers[column("stable")], String(cell.values)).toBe(wholeAxis!.stable ? 1 : 0);
		if (!wholeAxis!.stable) continue;
		stable++;
		const loops = [rateLoop, angleLoop!, wholeAxis!];
		expect(cell.numbers[column("stabilityRadius")]!).toBeCloseTo(
			1 / Math.max(...loops.map((l) => l.ms.value!)),
			3,
		);
		expect(cell.numbers[column("phaseMarginDeg")]!).toBeCloseTo(
			Math.min(...loops.map((l) => l.phaseMarginDeg.value ?? 180)),
			1,
		);
		expect(cell.numbers[column("delayMarginMs")]!).toBeCloseTo(
			1e3 * Math.min(...loops.map((l) => l.delayMarginSec.value ?? 9)),
			1,
		);
	}
	expect(stable).toBeGreaterThan(4);
	expect(stable).toBeLessThan(12);
});

test("the worst of several points is no better than any of them", () => {
	const points = corners(craft)
		.filter((_, i) => i % 21 === 0)
		.map((c) => c.point);
	const worst = createSweepCells(plane(points), resolve)(4, 1)[0]!.numbers;
	for (const point of points) {
		const one = createSweepCells(plane([point]), resolve)(4, 1)[0]!.numbers;
		expect(worst[column("stabilityRadius")]!).toBeLessThanOrEqual(one[column("stabilityRadius")]!);
	}
});

test("a cell that cannot be made says why and the rest go on", () => {
	const sweep: Sweep = { ...plane(), axes: [{ path: "gainSets.A.roll.kp", values: [0.1, 99] }] };
	const [fine, broken] = createSweepCells(sweep, resolve)(0, 2);
	expect(fine!.why).toBe("");
	expect(broken).toEqual({
		index: 1,
		values: [99],
		numbers: SWEEP_COLUMNS.margins.map(() => null),
		why: "kp too large",
	});
	expect(() => createSweepCells(sweep, resolve)(1, 2)).toThrow(
		"cells 1 and 2 on, expected within the sweep's 2",
	);
});

test("flown cells give a drill's step figures, or how the flight ended", () => {
	const sweep: Sweep = {
		axes: [{ path: "gainSets.A.roll.kp", values: [0.1, 5] }],
		measure: {
			kind: "flown",
			axis: "roll",
			point: NOMINAL_POINT,
			drill: {
				name: "step",
				about: "",
				durationSec: 2,
				heightM: 50,
				seed: 1,
				events: [{ atSec: 0.2, kind: "angle", axis: "roll", angleRad: 0.17 }],
				wind: STILL_AIR,
			},
		},
	};
	const [good, wild] = createSweepCells(sweep, resolve)(0, 2);
	expect(good!.numbers[0]).toBe(1);
	expect(good!.numbers[1]!).toBeLessThan(40);
	expect(good!.numbers[2]!).toBeGreaterThan(50);
	expect(good!.numbers[5]!).toBeGreaterThan(1);
	// kp fifty times as large saturates without end: worse, or not flown to the end.
	expect(wild!.numbers[0] === 0 ? wild!.why : wild!.numbers[6]! > good!.numbers[6]! + 10).toBeTruthy();
});
