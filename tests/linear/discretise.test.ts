import { describe, expect, it } from "vitest";
import { closeLoop, series } from "../../src/linear/connect.ts";
import { discretise } from "../../src/linear/discretise.ts";
import { createResponder } from "../../src/linear/frequency-response.ts";
import { CONTINUOUS, stateSpace } from "../../src/linear/state-space.ts";
import {
	fromStateSpace,
	respond,
	toStateSpace,
	transferFunction,
} from "../../src/linear/transfer-function.ts";
import { createRandom } from "../../src/math/random.ts";
import { createStepper } from "../../src/ode/rk4.ts";

const plant = stateSpace(CONTINUOUS, {
	a: [
		[0, 1, 0],
		[-4, -0.6, 1],
		[0, 0.2, -3],
	],
	b: [
		[0, 0.1],
		[0, 1],
		[2, 0],
	],
	c: [
		[1, 0, 0],
		[0, 1, 0.5],
	],
	d: [
		[0, 0.3],
		[0, 0],
	],
});

describe("discretise", () => {
	it("of a delayed integrator splits the hold at the delay (closed form)", () => {
		const held = discretise(stateSpace(CONTINUOUS, { a: [[0]], b: [[1]], c: [[1]] }), 1, { inputSec: 1.3 });
		expect(Array.from(held.a, (v) => Math.round(v * 1e14) / 1e14)).toEqual([1, 0.7, 0.3, 0, 0, 0, 0, 1, 0]);
	});

	it.each([
		[0, 0, 0, 0],
		[0.03, 0, 0, 0.04],
		[0.25, 0.1, 0.17, 0],
		[0.1, 0.02, 0.3, 0.26],
	])("agrees with fine integration for delays %f %f in, %f %f out", (i0, i1, o0, o1) => {
		const T = 0.1;
		const held = discretise(plant, T, { inputSec: [i0, i1], outputSec: [o0, o1] });
		const random = createRandom(11);
		const count = 40;
		const u = Array.from({ length: count }, () => [random.normal(), random.normal()]);
		const h = 0.001;
		const held_u = (t: number, i: number): number => u[Math.floor((t + 1e-9) / T)]?.[i] ?? 0;
		const delays = [i0, i1];
		const input = (t: number, i: number): number => (t - delays[i]! < -1e-9 ? 0 : held_u(t - delays[i]!, i));
		// The body in steps of 1 ms, never across a change of input; outputs kept for reading back.
		const outputs: number[][] = [];
		const x = new Float64Array(3);
		const step = createStepper(3);
		for (let k = 0; k * h < count * T - 1e-9; k++) {
			const now = [input(k * h, 0), input(k * h, 1)];
			outputs.push(
				[0, 1].map(
					(o) =>
						plant.c.slice(o * 3, o * 3 + 3).reduce((s, v, i) => s + v * x[i]!, 0) +
						plant.d[o * 2]! * now[0]! +
						plant.d[o * 2 + 1]! * now[1]!,
				),
			);
			step(
				(_, s, out) => {
					for (let r = 0; r < 3; r++) {
						out[r] = plant.b[r * 2]! * now[0]! + plant.b[r * 2 + 1]! * now[1]!;
						for (let c = 0; c < 3; c++) out[r]! += plant.a[r * 3 + c]! * s[c]!;
					}
				},
				0,
				h,
				x,
			);
		}
		let z = new Float64Array(held.order);
		for (let k = 0; k < count; k++) {
			for (const [o, age] of [o0, o1].entries()) {
				let y = held.d[o * 2]! * u[k]![0]! + held.d[o * 2 + 1]! * u[k]![1]!;
				for (let i = 0; i < held.order; i++) y += held.c[o * held.order + i]! * z[i]!;
				const at = Math.round((k * T - age) / h);
				expect(Math.abs(y - (at < 0 ? 0 : outputs[at]![o]!))).toBeLessThan(1e-9);
			}
			z = z.map((_, r) => {
				let sum = held.b[r * 2]! * u[k]![0]! + held.b[r * 2 + 1]! * u[k]![1]!;
				for (let i = 0; i < held.order; i++) sum += held.a[r * held.order + i]! * z[i]!;
				return sum;
			});
		}
	});

	it("names what is wrong", () => {
		expect(() => discretise(plant, 0)).toThrow(/period 0/);
		expect(() => discretise(plant, 0.1, { inputSec: [-1, 0] })).toThrow(/inputSec -1/);
		expect(() => discretise(plant, 0.1, { outputSec: [1] })).toThrow(/expected 2/);
	});
});

describe("state space and transfer function", () => {
	it("answer alike at every frequency", () => {
		const respondTo = createResponder(plant);
		const all = new Float64Array(8);
		const one = new Float64Array(2);
		for (const [input, output] of [
			[0, 0],
			[1, 0],
			[0, 1],
			[1, 1],
		] as const) {
			const tf = fromStateSpace(plant, input, output);
			for (const w of [0.01, 0.5, 2, 2.1, 30]) {
				respondTo(w, all);
				respond(tf, w, one);
				const k = 2 * (output * 2 + input);
				expect(Math.hypot(all[k]! - one[0]!, all[k + 1]! - one[1]!)).toBeLessThan(1e-10);
			}
		}
	});
	it("series multiplies, closeLoop gives L/(1+L)", () => {
		const first = transferFunction(CONTINUOUS, [2, 1], [1, 4]);
		const second = transferFunction(CONTINUOUS, [3], [1, 0.2, 5]);
		const open = series(toStateSpace(first), toStateSpace(second));
		const [p, q, l, t] = [0, 0, 0, 0].map(() => new Float64Array(2));
		const w = 1.7;
		respond(first, w, p!);
		respond(second, w, q!);
		createResponder(open)(w, l!);
		expect(l![0]).toBeCloseTo(p![0]! * q![0]! - p![1]! * q![1]!, 12);
		expect(l![1]).toBeCloseTo(p![0]! * q![1]! + p![1]! * q![0]!, 12);
		createResponder(closeLoop(open))(w, t!);
		const size = (1 + l![0]!) ** 2 + l![1]! ** 2;
		expect(t![0]).toBeCloseTo((l![0]! * (1 + l![0]!) + l![1]! ** 2) / size, 12);
		expect(t![1]).toBeCloseTo(l![1]! / size, 12);
	});
	it.each([
		[[], [1], /num is empty/],
		[[1], [0], /den is 0/],
		[[1, 0, 0], [1, 1], /proper/],
		[[Number.NaN], [1], /NaN/],
	])("refuses %j over %j", (num, den, message) => {
		expect(() => transferFunction(CONTINUOUS, num as number[], den as number[])).toThrow(message as RegExp);
	});
});
