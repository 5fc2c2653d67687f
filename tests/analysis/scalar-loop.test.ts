import { describe, expect, it } from "vitest";
import { countRightPoles } from "../../src/analysis/scalar-loop-encirclement.ts";
import {
	analyseLoopFromTransferFunction,
	describeTransferLoop,
	type TransferLoop,
} from "../../src/analysis/scalar-loop-transfer.ts";
import * as polynomial from "../../src/math/polynomial.ts";
import { createRandom } from "../../src/math/random.ts";

function randomLoop(random: ReturnType<typeof createRandom>): TransferLoop {
	let den: number[] = [1];
	const order = 1 + Math.floor(3 * random.uniform());
	for (let i = 0; i < order; i++) {
		const w = 10 ** (2 * random.uniform() - 1);
		den = polynomial.multiply(
			den,
			random.uniform() < 0.5 ? [1, w] : [1, 2 * (0.005 + random.uniform()) * w, w * w],
		);
	}
	if (random.uniform() < 0.4) den = polynomial.multiply(den, [1, 0]);
	const num = [10 ** (3 * random.uniform() - 1.5) * (den.at(-1) || 1)];
	const kind = random.uniform();
	if (kind < 0.4) return { num, den };
	if (kind < 0.7) return { num, den, delaySec: random.uniform() };
	return { num, den, delaySec: 0.3 * random.uniform(), sampleTimeSec: 0.1, hold: "zoh" };
}

describe("margins by their definition, on random loops", () => {
	const random = createRandom(42);
	const loops = Array.from({ length: 60 }, () => randomLoop(random));

	it("puts L where each crossing says", () => {
		let gains = 0;
		let phases = 0;
		const out = new Float64Array(2);
		for (const input of loops) {
			const loop = describeTransferLoop(input);
			for (const c of analyseLoopFromTransferFunction(input).crossings) {
				if (c.radPerSec === 0) continue;
				loop.respond(c.radPerSec, out);
				const size = Math.hypot(out[0]!, out[1]!);
				if (c.kind === "gain") {
					gains++;
					expect(Math.abs(size - 1)).toBeLessThan(1e-9);
					const angle = Math.PI - (c.marginDeg * Math.PI) / 180;
					expect(Math.hypot(out[0]! - Math.cos(angle), out[1]! + Math.sin(angle))).toBeLessThan(1e-9);
					const turn = Math.atan2(out[1]!, out[0]!) - c.radPerSec * c.delaySec;
					expect(Math.hypot(Math.cos(turn) + 1, Math.sin(turn))).toBeLessThan(1e-8);
				} else {
					phases++;
					expect(Math.hypot(out[0]! * 10 ** (c.marginDb / 20) + 1, out[1]! / size)).toBeLessThan(1e-8);
				}
			}
		}
		expect(gains).toBeGreaterThan(30);
		expect(phases).toBeGreaterThan(30);
	});

	it("stays stable just inside its gain and delay margin and not just outside", () => {
		let tried = 0;
		for (const input of loops) {
			const found = analyseLoopFromTransferFunction(input);
			if (!found.stable) continue;
			const stableAt = (gain: number, delay: number): boolean =>
				describeTransferLoop({
					...input,
					num: input.num.map((v) => v * gain),
					delaySec: (input.delaySec ?? 0) + delay,
				}).stable;
			const up = found.gainMarginUpDb.value;
			if (up !== null && up < 80) {
				tried++;
				expect(stableAt(10 ** ((up * 0.999) / 20), 0)).toBe(true);
				expect(stableAt(10 ** ((up * 1.001) / 20), 0)).toBe(false);
			}
			const delay = found.delayMarginSec.value;
			if (delay !== null && input.sampleTimeSec === undefined && delay < 100) {
				expect(stableAt(1, 0.999 * delay)).toBe(true);
				expect(stableAt(1, 1.001 * delay)).toBe(false);
			}
		}
		expect(tried).toBeGreaterThan(15);
	});

	it("finds no point of the axis beyond the reported peaks", () => {
		const out = new Float64Array(2);
		for (const input of loops) {
			const found = analyseLoopFromTransferFunction(input);
			if (!found.stable) continue;
			const loop = describeTransferLoop(input);
			let ms = 0;
			let mt = 0;
			for (let i = 0; i < 3000; i++) {
				const w = loop.lowestRadPerSec * (loop.highestRadPerSec / loop.lowestRadPerSec) ** (i / 3000);
				loop.respond(w, out);
				const s = Math.hypot(1 + out[0]!, out[1]!);
				ms = Math.max(ms, 1 / s);
				mt = Math.max(mt, Math.hypot(out[0]!, out[1]!) / s);
			}
			expect(ms).toBeLessThan(found.ms.value! * (1 + 1e-9));
			expect(mt).toBeLessThan(found.mt.value! * (1 + 1e-9));
		}
	});
});

describe("counting poles to the right", () => {
	it("agrees with the roots where there is no delay", () => {
		const random = createRandom(9);
		let unstable = 0;
		for (let k = 0; k < 60; k++) {
			const den = [1, ...Array.from({ length: 4 }, () => 3 * random.normal())];
			const num = [random.normal(), 4 * random.normal()];
			const right = polynomial.roots(polynomial.add(den, num)).filter((p) => p.re > 0).length;
			if (right > 0) unstable++;
			expect(countRightPoles(num, den, 0)).toEqual({ kind: "count", count: right });
		}
		expect(unstable).toBeGreaterThan(20);
	});
	it("of k e^-s/s steps by two at k = pi/2 + 2 pi m (closed form)", () => {
		for (const [k, count] of [
			[1.57, 0],
			[1.572, 2],
			[7.85, 2],
			[7.86, 4],
			[14.2, 6],
		] as const)
			expect(countRightPoles([k], [1, 0], 1)).toEqual({ kind: "count", count });
		expect(countRightPoles([-1], [1, 0.5], 1)).toEqual({ kind: "count", count: 1 });
		expect(countRightPoles([2], [1], 1).kind).toBe("infinite");
	});
});

describe("edges", () => {
	it("tells satisfied from undefined", () => {
		const quiet = analyseLoopFromTransferFunction({ num: [0.5], den: [1, 1] });
		expect(quiet.gainMarginUpDb).toMatchObject({ value: null, verdict: "satisfied" });
		expect(quiet.phaseMarginDeg).toMatchObject({ value: null, verdict: "satisfied" });
		const wild = analyseLoopFromTransferFunction({ num: [1], den: [1, 0, 0] });
		expect(wild.stable).toBe(false);
		expect(wild.ms).toMatchObject({ value: null, verdict: "undefined" });
		expect(wild.why).toMatch(/axis/);
	});
	it("sees a resonance a billionth wide", () => {
		const found = analyseLoopFromTransferFunction({ num: [1e-3], den: [1, 2e-9, 1, 0] });
		expect(found.stable).toBe(false);
		expect(found.crossings.filter((c) => c.kind === "gain")).toHaveLength(3);
		const damped = analyseLoopFromTransferFunction({ num: [1e-4, 1e-3], den: [1, 2e-3, 1, 0] });
		expect(damped.crossings.filter((c) => c.kind === "gain")).toHaveLength(1);
	});
	it.each([
		[{ num: [1], den: [1, 1], sampleTimeSec: 0.1 }, /without hold or discrete/],
		[{ num: [1], den: [1, 1], hold: "zoh" }, /no sample time/],
		[{ num: [1], den: [1, 1], discrete: true, sampleTimeSec: 0.1, delaySec: 0.05 }, /whole periods/],
		[{ num: [1], den: [1, 1], delaySec: -1 }, /delay -1/],
	] as const)("refuses %j", (input, message) => {
		expect(() => analyseLoopFromTransferFunction(input)).toThrow(message);
	});
});
