import { expect, test } from "vitest";
import { createResponder } from "../../src/linear/frequency-response.ts";
import { CONTINUOUS, sampled, stateSpace } from "../../src/linear/state-space.ts";
import { solve } from "../../src/math/matrix.ts";
import { createRandom } from "../../src/math/random.ts";

/** C (x I - A)^-1 B + D by one real solve of twice the size, no zero of A used. */
function dense(system: ReturnType<typeof stateSpace>, zr: number, zi: number): Float64Array {
	const { order: n, inputs: m, outputs: p, a, b, c, d } = system;
	const wide = 2 * n;
	const left = new Float64Array(wide * wide);
	const right = new Float64Array(wide * m);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j < n; j++) {
			const entry = (i === j ? zr : 0) - a[i * n + j]!;
			left[i * wide + j] = entry;
			left[(n + i) * wide + n + j] = entry;
		}
		left[i * wide + n + i] = -zi;
		left[(n + i) * wide + i] = zi;
		for (let j = 0; j < m; j++) right[i * m + j] = b[i * m + j]!;
	}
	const x = solve(left, right, wide, m);
	const out = new Float64Array(2 * p * m);
	for (let o = 0; o < p; o++)
		for (let j = 0; j < m; j++) {
			let re = d[o * m + j]!;
			let im = 0;
			for (let k = 0; k < n; k++) {
				re += c[o * n + k]! * x[k * m + j]!;
				im += c[o * n + k]! * x[(n + k) * m + j]!;
			}
			out[2 * (o * m + j)] = re;
			out[2 * (o * m + j) + 1] = im;
		}
	return out;
}

test.each([
	["every state on every other", 1],
	["few entries: chains, loops and states apart", 0.2],
	["hardly any", 0.05],
])("as one dense solve answers: %s", (_, share) => {
	const random = createRandom(11).uniform;
	for (let trial = 0; trial < 20; trial++) {
		const n = 10;
		const some = (count: number, kept: number): Float64Array =>
			Float64Array.from({ length: count }, () => (random() < kept ? 2 * random() - 1 : 0));
		const matrices = { a: some(n * n, share), b: some(2 * n, 0.6), c: some(3 * n, 0.4), d: some(6, 0.5) };
		for (const base of [CONTINUOUS, sampled(0.01)] as const) {
			const system = stateSpace(base, matrices, { order: n, inputs: 2, outputs: 3 });
			const respond = createResponder(system);
			for (const omega of [0.3, 7, 150]) {
				const out = new Float64Array(12);
				respond(omega, out);
				const isSampled = base.kind === "sampled";
				const expected = dense(
					system,
					isSampled ? Math.cos(0.01 * omega) : 0,
					isSampled ? Math.sin(0.01 * omega) : omega,
				);
				const size = Math.max(1, ...expected.map(Math.abs));
				expected.forEach((value, i) => {
					expect(Math.abs(out[i]! - value)).toBeLessThan(1e-11 * size);
				});
			}
		}
	}
});

test("a chain of integrators at low frequency keeps its digits: 1/s^4 exactly", () => {
	const n = 4;
	const a = new Float64Array(n * n);
	for (let i = 0; i + 1 < n; i++) a[i * n + i + 1] = 1;
	const respond = createResponder(
		stateSpace(CONTINUOUS, { a, b: Float64Array.of(0, 0, 0, 1), c: Float64Array.of(1, 0, 0, 0) }),
	);
	const out = new Float64Array(2);
	respond(1e-3, out);
	expect(out[0]! / 1e12).toBeCloseTo(1, 14);
	expect(out[1]! / 1e12).toBeCloseTo(0, 14);
});

test("on a pole the answer is not finite; a pole that no output reads is none", () => {
	const one = { a: [[0]], b: [[1]] };
	const out = new Float64Array(2);
	createResponder(stateSpace(CONTINUOUS, { ...one, c: [[1]] }))(0, out);
	expect(Number.isFinite(out[0]! + out[1]!)).toBe(false);
	createResponder(stateSpace(CONTINUOUS, { ...one, c: [[0]], d: [[3]] }))(0, out);
	expect([...out]).toEqual([3, 0]);
});
