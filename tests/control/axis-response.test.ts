import { describe, expect, it } from "vitest";
import { axisLaw } from "../../src/control/axis-law.ts";
import { linearTick } from "../../src/control/axis-linear.ts";
import { ANSWER, axisResponse } from "../../src/control/axis-response.ts";
import { AXES, type FixedGainSet } from "../../src/control/spec.ts";
import { createRandom } from "../../src/math/random.ts";
import { sampleGains } from "../fixtures/craft.ts";
import { sineAnswer } from "./demodulate.ts";
import { tickAxis } from "./tick-axis.ts";

const T = 0.002;
const gains = { ...sampleGains().roll, kAngleI: 0.8, kff: 0.01, setPointWeight: 0.7 };
const filters: FixedGainSet["filters"] = [
	{ kind: "lowPass1", cutoffHz: 90 },
	{ kind: "notch", centreHz: 110, widthHz: 30 },
];
const sets = (["cascade", "anglePid", "rateOnly"] as const).flatMap((structure) =>
	[[], filters].map((f) => sampleGains({ structure, filters: f, roll: gains, pitch: gains })),
);
const INPUTS = [
	{ at: ANSWER.angleSetPoint, index: 0 },
	{ at: ANSWER.angle, index: 1 },
	{ at: ANSWER.rateSetPoint, index: 2 },
	{ at: ANSWER.rate, index: 3 },
];

describe.each(
	sets.flatMap((set) => AXES.map((axis) => [set.structure, set.filters.length, axis, set] as const)),
)("%s, %i filters, %s", (_structure, _filters, axis, set) => {
	it("answers a sine as its tick steps it", () => {
		const response = axisResponse(set, axis, T);
		const out = new Float64Array(ANSWER.length);
		for (const samples of [9, 30, 200])
			for (const { at, index } of INPUTS) {
				const law = axisLaw(set, axis, T, true);
				const state = new Float64Array(law.stride);
				const v = [0, 0, 0, 0];
				// A double integrator drifts from rest; a cosine's start would too. Both loops' sums together: take the ramp out.
				const ramp = set.structure === "cascade" && axis !== "yaw" && index < 2;
				if (ramp) continue;
				const [re, im] = sineAnswer(
					(x) => {
						v[index] = x;
						return tickAxis(law, state, v[0]!, v[1]!, v[2]!, v[3]!, T, true);
					},
					samples,
					Math.ceil(500 / samples),
					4,
				);
				response.respond((2 * Math.PI) / (samples * T), out);
				expect(Math.hypot(re - out[at]!, im - out[at + 1]!)).toBeLessThan(1e-9);
			}
	});
	it("has a small-signal form that gives the same frequency answer and the same ticks", () => {
		const lin = linearTick(set, axis, T, T);
		const response = axisResponse(set, axis, T);
		const out = new Float64Array(ANSWER.length);
		for (const omega of [2, 30, 400]) {
			response.respond(omega, out);
			for (const { at, index } of INPUTS) {
				const [re, im] = answerOf(lin, index, omega * T);
				expect(Math.hypot(re - out[at]!, im - out[at + 1]!)).toBeLessThan(
					1e-9 * Math.max(1, Math.hypot(out[at]!, out[at + 1]!)),
				);
			}
		}
		const held = linearTick(set, axis, T, 0);
		const fresh = linearTick(set, axis, T, 2 * T);
		const law = axisLaw(set, axis, T, true);
		const state = new Float64Array(law.stride);
		let s = new Float64Array(lin.order);
		const random = createRandom(11);
		for (let k = 0; k < 60; k++) {
			const form = k % 2 === 0 ? fresh : held;
			const v = [random.normal(), random.normal(), random.normal(), random.normal()] as const;
			const u = tickAxis(law, state, v[0], v[1], v[2], v[3], k % 2 === 0 ? 2 * T : 0, true);
			let expected = 0;
			const next = new Float64Array(lin.order);
			for (let i = 0; i < lin.order; i++) {
				expected += form.c[i]! * s[i]!;
				for (let j = 0; j < lin.order; j++) next[i]! += form.a[i * lin.order + j]! * s[j]!;
				for (let j = 0; j < 4; j++) next[i]! += form.b[i * 4 + j]! * v[j]!;
			}
			for (let j = 0; j < 4; j++) expected += form.d[j]! * v[j]!;
			expect(u).toBeCloseTo(expected, 11);
			s = next;
		}
	});
});

describe("gyro samples every second tick", () => {
	it("the derivative answers at their spacing", () => {
		const roll = { ...gains, kp: 0, ki: 0, kd: 1 };
		const set = sampleGains({ structure: "rateOnly", roll });
		const law = axisLaw(set, "roll", T, true);
		const state = new Float64Array(law.stride);
		const samples = 40;
		const [re, im] = sineAnswer(
			(x) => {
				const u = tickAxis(law, state, 0, 0, 0, x, 2 * T, true);
				expect(tickAxis(law, state, 0, 0, 0, x, 0, true)).toBe(u);
				return u;
			},
			samples,
			12,
			4,
		);
		const out = new Float64Array(ANSWER.length);
		axisResponse(set, "roll", T, 2 * T).respond((2 * Math.PI) / (samples * 2 * T), out);
		expect(Math.hypot(re - out[0]!, im - out[1]!)).toBeLessThan(1e-9);
	});
});

/** C (zI - A)^-1 B + D by complex Gauss elimination. */
function answerOf(lin: ReturnType<typeof linearTick>, input: number, angle: number): [number, number] {
	const n = lin.order;
	const m = Array.from({ length: n }, (_, i) =>
		Array.from({ length: n + 1 }, (_, j): [number, number] =>
			j === n
				? [lin.b[i * 4 + input]!, 0]
				: [(i === j ? Math.cos(angle) : 0) - lin.a[i * n + j]!, i === j ? Math.sin(angle) : 0],
		),
	);
	const times = (a: [number, number], b: [number, number]): [number, number] => [
		a[0] * b[0] - a[1] * b[1],
		a[0] * b[1] + a[1] * b[0],
	];
	const over = (a: [number, number], b: [number, number]): [number, number] => {
		const size = b[0] ** 2 + b[1] ** 2;
		return times(a, [b[0] / size, -b[1] / size]);
	};
	for (let k = 0; k < n; k++) {
		let best = k;
		for (let i = k; i < n; i++) if (Math.hypot(...m[i]![k]!) > Math.hypot(...m[best]![k]!)) best = i;
		[m[k], m[best]] = [m[best]!, m[k]!];
		for (let i = 0; i < n; i++) {
			if (i === k) continue;
			const f = over(m[i]![k]!, m[k]![k]!);
			for (let j = k; j <= n; j++) {
				const t = times(f, m[k]![j]!);
				m[i]![j] = [m[i]![j]![0] - t[0], m[i]![j]![1] - t[1]];
			}
		}
	}
	let out: [number, number] = [lin.d[input]!, 0];
	for (let k = 0; k < n; k++) {
		const x = over(m[k]![n]!, m[k]![k]!);
		out = [out[0] + lin.c[k]! * x[0], out[1] + lin.c[k]! * x[1]];
	}
	return out;
}
