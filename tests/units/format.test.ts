import { expect, it } from "vitest";
import { formatQuantity } from "../../src/units/format.ts";

it("writes a quantity in the unit people read", () => {
	expect(formatQuantity("mass", 1.9)).toBe("1.9 kg");
	expect(formatQuantity("mass", 0.31)).toBe("310 g");
	expect(formatQuantity("time", 0.055)).toBe("55 ms");
	expect(formatQuantity("time", 2e-4)).toBe("200 us");
	expect(formatQuantity("angle", Math.PI / 6)).toBe("30 deg");
	expect(formatQuantity("fraction", 0.05)).toBe("5 %");
	expect(formatQuantity("length", 0)).toBe("0 m");
	expect(formatQuantity("inertia", 1.23456e-5)).toBe("0.00001235 kg m^2");
});

it("refuses what is not a number", () => {
	expect(() => formatQuantity("mass", Number.NaN)).toThrow(/NaN/);
});
