import { describe, expect, it } from "vitest";
import { axisLoops, coupledLoops, loopMatrix } from "../../src/analysis/axis-loops.ts";
import { axisPlantsOf } from "../../src/analysis/axis-plants.ts";
import { axesTouch, craftAnswer } from "../../src/analysis/craft-answer.ts";
import { diskReport } from "../../src/analysis/disk-report.ts";
import { linearise } from "../../src/analysis/linearise.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { AXES } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { skewedCraft, unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

function routes(craft: Craft) {
	const found = linearise(craft, NOMINAL_POINT);
	if (!found.feasible) throw new Error(found.reason);
	const chain = timingChain(craft.timing);
	const plants = axisPlantsOf(found.linear, chain);
	const answer = craftAnswer(found.linear, chain);
	const set = { ...sampleGains(), filters: [{ kind: "notch", centreHz: 60, widthHz: 20 } as const] };
	return {
		linear: found.linear,
		alone: AXES.map((axis) => axisLoops(plants[axis], set)),
		together: coupledLoops(answer, set, plants.roll.periodSec, plants.roll.rateSpacingSec),
		matrix: loopMatrix(answer, set, plants.roll.periodSec, plants.roll.rateSpacingSec),
	};
}

describe("loops", () => {
	it.each([
		["equal clocks", sampleCraft()],
		["unequal clocks", unequalCraft()],
	])("a symmetric craft: one axis at a time and the whole craft closed are one answer, %s", (_, craft) => {
		const { alone, together, linear } = routes(craft);
		expect(axesTouch(linear)).toBe(false);
		const a = new Float64Array(2);
		const b = new Float64Array(2);
		for (let axis = 0; axis < 3; axis++)
			for (const name of ["rate", "angle", "whole"] as const) {
				expect(alone[axis]![name] === null).toBe(together[axis]![name] === null);
				if (!alone[axis]![name]) continue;
				for (const omega of [0.3, 4, 30, 200, 1000]) {
					alone[axis]![name]!(omega, a);
					together[axis]![name]!(omega, b);
					const size = Math.hypot(a[0]!, a[1]!);
					expect(Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!)).toBeLessThan(1e-8 * (1 + size));
				}
			}
	});

	it("a skewed craft: 1 + L of one opening is det(I + Q) over the other two's", () => {
		const { together, matrix, linear } = routes(skewedCraft());
		expect(axesTouch(linear)).toBe(true);
		const q = new Float64Array(18);
		const out = new Float64Array(2);
		const times = (a: number[], b: number[]): number[] => [
			a[0]! * b[0]! - a[1]! * b[1]!,
			a[0]! * b[1]! + a[1]! * b[0]!,
		];
		const less = (a: number[], b: number[]): number[] => [a[0]! - b[0]!, a[1]! - b[1]!];
		for (const omega of [1, 15, 120]) {
			matrix(omega, q);
			const m = (i: number, j: number): number[] => [
				q[2 * (3 * i + j)]! + (i === j ? 1 : 0),
				q[2 * (3 * i + j) + 1]!,
			];
			const minor = (i: number, j: number, k: number, l: number): number[] =>
				less(times(m(i, k), m(j, l)), times(m(i, l), m(j, k)));
			const det = less(
				[0, 0],
				less(
					less([0, 0], times(m(0, 2), minor(1, 2, 0, 1))),
					less(times(m(0, 0), minor(1, 2, 1, 2)), times(m(0, 1), minor(1, 2, 0, 2))),
				),
			);
			const others = [minor(1, 2, 1, 2), minor(0, 2, 0, 2), minor(0, 1, 0, 1)];
			for (let axis = 0; axis < 2; axis++) {
				together[axis]!.whole!(omega, out);
				const [re, im] = times([1 + out[0]!, out[1]!], others[axis]!);
				expect(re! / det[0]!).toBeCloseTo(1, 6);
				expect(im! / det[1]!).toBeCloseTo(1, 6);
			}
		}
	});

	it("disk margin of axes apart: the three together give the same", () => {
		const { matrix } = routes(sampleCraft());
		const high = Math.PI / 0.002;
		const apart = diskReport(matrix, true, 0.05, high, false);
		const together = diskReport(matrix, true, 0.05, high, true);
		expect(together.alpha!).toBeCloseTo(apart.alpha!, 6);
		expect(diskReport(matrix, false, 0.05, high, false)).toMatchObject({
			alpha: null,
			why: expect.stringContaining("unstable"),
		});
	});
});
