import { describe, expect, it } from "vitest";
import type { Vec3 } from "../../src/math/types.ts";
import { step } from "../../src/physics/kernel.ts";
import { bodyRates } from "../../src/physics/kernel-layout.ts";
import { bareBody, bodyOf } from "../fixtures/plant.ts";

/**
 * Torque-free rigid body: Landau and Lifshitz, Mechanics, par. 37 (from memory; w1 cn, w2 sn, w3 dn). Elliptic functions by the
 * descending Landen / arithmetic-geometric mean scheme, Abramowitz and Stegun 16.4.
 */
function jacobi(u: number, m: number): { sn: number; cn: number; dn: number } {
	const a = [1];
	const c = [Math.sqrt(m)];
	let b = Math.sqrt(1 - m);
	while (Math.abs(c.at(-1)!) > 1e-17 && a.length < 30) {
		const last = a.at(-1)!;
		a.push((last + b) / 2);
		c.push((last - b) / 2);
		b = Math.sqrt(last * b);
	}
	let phi = 2 ** (a.length - 1) * a.at(-1)! * u;
	for (let i = a.length - 1; i > 0; i--) phi = (phi + Math.asin((c[i]! / a[i]!) * Math.sin(phi))) / 2;
	const sn = Math.sin(phi);
	return { sn, cn: Math.cos(phi), dn: Math.sqrt(1 - m * sn * sn) };
}

/** Rates at time t of a body started with w2 = 0 (so at u = 0), I1 < I2 < I3, L^2 > 2 E I2. */
function closedForm([i1, i2, i3]: Vec3, w1: number, w3: number, t: number): Vec3 {
	const energy2 = i1 * w1 * w1 + i3 * w3 * w3;
	const l2 = (i1 * w1) ** 2 + (i3 * w3) ** 2;
	const p = Math.sqrt(((i3 - i2) * (l2 - energy2 * i1)) / (i1 * i2 * i3));
	const m = ((i2 - i1) * (energy2 * i3 - l2)) / ((i3 - i2) * (l2 - energy2 * i1));
	const { sn, cn, dn } = jacobi(p * t, m);
	return [
		Math.sqrt((energy2 * i3 - l2) / (i1 * (i3 - i1))) * cn,
		Math.sqrt((energy2 * i3 - l2) / (i2 * (i3 - i2))) * sn,
		Math.sqrt((l2 - energy2 * i1) / (i3 * (i3 - i1))) * dn,
	];
}

function ratesAfter(inertia: Vec3, rates: Vec3, seconds: number, stepSec = 1e-3): Float64Array {
	const body = bodyOf(bareBody(inertia), rates);
	const out = new Float64Array(3);
	for (let i = 0; i < Math.round(seconds / stepSec); i++)
		step(body.kernel, body.x, body.u, body.air, body.outside, stepSec);
	bodyRates(body.kernel, body.x, out);
	return out;
}

const relative = (got: ArrayLike<number>, want: Vec3): number => {
	const miss = Math.hypot(...want.map((w, i) => got[i]! - w));
	return miss / Math.hypot(...want);
};

describe("a body without torque", () => {
	it("agrees with the values that the closed form prints at 1 s and 5 s", () => {
		const at1: Vec3 = [0.57780247181208, 0.81617663747981, 0.88201581551054];
		const at5: Vec3 = [-0.16435042976527, -0.98640201552712, 0.82199169982915];
		expect(relative(closedForm([1, 2, 3], 1, 1, 1), at1)).toBeLessThan(1e-13);
		expect(relative(ratesAfter([1, 2, 3], [1, 0, 1], 1), at1)).toBeLessThan(1e-12);
		expect(relative(ratesAfter([1, 2, 3], [1, 0, 1], 5), at5)).toBeLessThan(1e-12);
	});
	it("follows the closed form to 1e-9 over 10 s at 1 ms with rates up to 5 rad/s", () => {
		for (const [w1, w3] of [
			[3, 4],
			[1, 4.9],
			[4, 3],
		] as const) {
			const want = closedForm([0.02, 0.024, 0.04], w1, w3, 10);
			expect(relative(ratesAfter([0.02, 0.024, 0.04], [w1, 0, w3], 10), want)).toBeLessThan(1e-9);
		}
	});
	it("turns over about the intermediate axis at the closed form's instants", () => {
		const body = bodyOf(bareBody([1, 2, 3]), [0.01, 1, 0]);
		const out = new Float64Array(3);
		const turns: number[] = [];
		let before = 1;
		for (let i = 1; i <= 60000; i++) {
			step(body.kernel, body.x, body.u, body.air, body.outside, 1e-3);
			bodyRates(body.kernel, body.x, out);
			const now = out[1]!;
			if (now * before < 0) turns.push((i - now / (now - before)) * 1e-3);
			before = now;
		}
		expect(turns[1]! - turns[0]!).toBeCloseTo(20.7546097646692, 6);
	});
	it("precesses a symmetric body at the closed form's body and space rates and nutation", () => {
		const inertia: Vec3 = [0.0075, 0.0075, 0.013];
		const body = bodyOf(bareBody(inertia), [0.5, 0, 4]);
		const out = new Float64Array(3);
		for (let i = 0; i < 10000; i++) step(body.kernel, body.x, body.u, body.air, body.outside, 1e-3);
		bodyRates(body.kernel, body.x, out);
		const bodyRate = ((0.013 - 0.0075) / 0.0075) * 4;
		expect(bodyRate).toBeCloseTo(2.93333333, 8);
		expect(relative(out, [0.5 * Math.cos(bodyRate * 10), 0.5 * Math.sin(bodyRate * 10), 4])).toBeLessThan(
			1e-9,
		);
		// The symmetry axis circles the fixed momentum (0.00375, 0, 0.052) at |H|/I1.
		const h: Vec3 = [0.00375, 0, 0.052];
		const size = Math.hypot(...h);
		expect(size / 0.0075).toBeCloseTo(6.9513388, 7);
		const [w, x, y, z] = [body.x[6]!, body.x[7]!, body.x[8]!, body.x[9]!];
		const axis: Vec3 = [2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)];
		const cosine = (axis[0] * h[0] + axis[2] * h[2]) / size;
		expect((Math.acos(cosine) * 180) / Math.PI).toBeCloseTo(4.12476661, 7);
		const angle = (size / 0.0075) * 10;
		const e: Vec3 = [h[0] / size, 0, h[2] / size];
		const dot = e[2];
		const want: Vec3 = [
			-e[0] * dot * Math.cos(angle) + e[0] * dot,
			-e[0] * Math.sin(angle),
			(1 - dot * e[2]) * Math.cos(angle) + e[2] * dot,
		];
		expect(axis[0]).toBeCloseTo(want[0], 9);
		expect(axis[1]).toBeCloseTo(want[1], 9);
		expect(axis[2]).toBeCloseTo(want[2], 9);
	});
	it("converges at fourth order", () => {
		const want = closedForm([1, 2, 3], 3, 3, 4);
		const miss = (h: number): number => relative(ratesAfter([1, 2, 3], [3, 0, 3], 4, h), want);
		expect(Math.log2(miss(0.02) / miss(0.01))).toBeGreaterThan(3.9);
		expect(Math.log2(miss(0.02) / miss(0.01))).toBeLessThan(4.5);
	});
});
