import fc from "fast-check";
import { expect, it } from "vitest";
import { formatQuantity } from "../../src/units/format.ts";
import { KINDS, type KindName } from "../../src/units/kinds.ts";
import { parseQuantity } from "../../src/units/parse.ts";

const NAMES = Object.keys(KINDS) as KindName[];

it("units in equals units out, for every kind", () => {
	fc.assert(
		fc.property(
			fc.constantFrom(...NAMES),
			fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
			fc.boolean(),
			(name, size, negative) => {
				const value = negative ? -size : size;
				const read = parseQuantity(name, formatQuantity(name, value, 17));
				expect(read.ok).toBe(true);
				if (read.ok) expect(Math.abs(read.value / value - 1)).toBeLessThan(1e-12);
			},
		),
		{ numRuns: 500 },
	);
});

it("reads the example and the bare number of every kind", () => {
	for (const name of NAMES) {
		expect(parseQuantity(name, KINDS[name].example)).toMatchObject({ ok: true });
		expect(parseQuantity(name, 0.25)).toEqual({ ok: true, value: 0.25, remark: "" });
	}
});

it("never throws, whatever it is given", () => {
	fc.assert(
		fc.property(fc.constantFrom(...NAMES), fc.anything(), (name, input) => {
			const read = parseQuantity(name, input);
			if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
		}),
	);
	fc.assert(
		fc.property(fc.constantFrom(...NAMES), fc.string(), (name, text) => {
			const read = parseQuantity(name, `1 ${text}`);
			if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
		}),
	);
});
