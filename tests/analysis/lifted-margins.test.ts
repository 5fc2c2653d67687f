import { describe, expect, it } from "vitest";
import { UNCHANGED } from "../../src/analysis/lifted.ts";
import { liftedMargins } from "../../src/analysis/lifted-margins.ts";
import type { Margin } from "../../src/analysis/scalar-loop-types.ts";

const none: Margin = { value: null, radPerSec: null, why: "", verdict: "satisfied" };
const at = (value: number): Margin => ({ value, radPerSec: 10 });

/** Margins of a loop that grows by exp(f) a second with gain factor and delay so changed, and how often it was asked. */
function search(f: (db: number, delaySec: number) => number, up: Margin, down: Margin, delay: Margin) {
	let asked = 0;
	const found = liftedMargins(
		{
			loop: {
				hyperperiodSec: 0.01,
				radius: ([change]) => {
					asked++;
					return Math.exp(0.01 * f(20 * Math.log10(change!.u), change!.applyLaterSec));
				},
				map: () => ({ size: 0, map: new Float64Array(0) }),
			},
			gain: (u) => [{ ...UNCHANGED, u }],
			delay: (applyLaterSec) => [{ ...UNCHANGED, applyLaterSec }],
			longestDelaySec: 0.1,
		},
		{ gainUpDb: up, gainDownDb: down, delaySec: delay },
	);
	return { ...found, asked };
}

describe("margins of a periodic loop", () => {
	const plain = (db: number, delay: number): number =>
		Math.max(3 * (1 - Math.exp((12.34567 - db) / 9)), -(db + 20) / 4, 40 * (delay - 0.0123456));

	it("near the guess, a little off it, far from it, and without one", () => {
		for (const off of [0, 1e-4, -1e-4, 0.01, -0.01, 0.2, -0.2, null]) {
			const guess = (value: number): Margin => (off === null ? none : at(value * (1 + off)));
			const found = search(plain, guess(12.34567), guess(20), guess(0.0123456));
			expect(Math.abs(found.gainMarginUpDb.value! - 12.34567)).toBeLessThan(2e-5);
			expect(Math.abs(found.gainMarginDownDb.value! - 20)).toBeLessThan(2e-5);
			expect(Math.abs(found.delayMarginSec.value! - 0.0123456)).toBeLessThan(1e-8);
		}
	});

	it("a good guess takes few evaluations", () => {
		expect(search(plain, at(12.346), at(20.001), at(0.012346)).asked).toBeLessThan(25);
	});

	it("an edge before the guess is the one that counts", () => {
		const bump = (db: number): number => (db > 9 && db < 20 ? 5 : -5) + 0.1 * (db - 30);
		expect(search((db) => bump(db), at(30), none, none).gainMarginUpDb.value!).toBeCloseTo(9, 4);
	});

	it("nothing found is said with how far was looked; unstable is undefined", () => {
		const calm = search(() => -1, none, none, none);
		expect(calm.gainMarginUpDb).toMatchObject({ value: null, why: "stable up to 60 dB more" });
		expect(calm.delayMarginSec).toMatchObject({ value: null, why: "stable with 100 ms more" });
		expect(search(() => 1, none, none, none).gainMarginUpDb).toMatchObject({ verdict: "undefined" });
	});
});
