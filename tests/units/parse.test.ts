import { describe, expect, it } from "vitest";
import type { KindName } from "../../src/units/kinds.ts";
import { parseQuantity } from "../../src/units/parse.ts";

/** Factors from NIST Special Publication 811 (2008), appendix B.8: inch, pound, ounce, rpm, kgf, lbf. */
const GOOD: readonly (readonly [KindName, unknown, number])[] = [
	["length", "520 mm", 0.52],
	["length", "11 in", 0.2794],
	["length", '11"', 0.2794],
	["length", 0.5, 0.5],
	["mass", "1.9 kg", 1.9],
	["mass", "0.9 lb", 0.9 * 0.45359237],
	["mass", "12 oz", 12 * 0.028349523125],
	["turnRate", "430 deg/s", (430 * Math.PI) / 180],
	["turnRate", "430 °/s", (430 * Math.PI) / 180],
	["turnRate", "4000 rpm", (4000 * Math.PI) / 30],
	["force", "620 g", 0.62 * 9.80665],
	["force", "620 gf", 0.62 * 9.80665],
	["force", "1 kgf", 9.80665],
	["force", "1 lbf", 4.4482216152605],
	["force", "8 N", 8],
	["voltage", "14.8 V", 14.8],
	["time", "2000 us", 0.002],
	["time", "2000 µs", 0.002],
	["period", "500 Hz", 0.002],
	["period", "2 kHz", 0.0005],
	["period", "2040 us", 0.00204],
	["frequency", "98 Hz", 98],
	["fraction", "20 %", 0.2],
	["fraction", 0.2, 0.2],
	["charge", "5.2 Ah", 5.2],
	["charge", "5200 mAh", 5.2],
	["resistance", "25 mohm", 0.025],
	["resistance", "25 mΩ", 0.025],
	["temperature", "20 degC", 293.15],
	["temperature", "20 °C", 293.15],
	["temperature", "68 degF", 293.15],
	["thrustCoefficient", "1.89e-5 N/(rad/s)^2", 1.89e-5],
	["thrustCoefficient", "1.89e-5 N s^2", 1.89e-5],
	["thrustCoefficient", "1e-7 N/rpm^2", 1e-7 * (30 / Math.PI) ** 2],
	["torqueCoefficient", "3e-7 N m/(rad/s)^2", 3e-7],
	["inflowCoefficient", "5e-4 N/((rad/s)(m/s))", 5e-4],
	["noiseDensity", "0.005 deg/s/sqrt(Hz)", (0.005 * Math.PI) / 180],
	["inertia", "0.022 kg m^2", 0.022],
	["inertia", "220 g m²", 0.22],
	["torque", "0.2 Nm", 0.2],
	["area", "200 cm^2", 0.02],
	["density", "1.2 kg/m^3", 1.2],
];

const BAD: readonly (readonly [KindName, unknown, RegExp])[] = [
	["speed", "5 kt", /kilotonnes or knots/],
	["speed", "5 knots", /0.514444/],
	["mass", "520 mm", /'mm' is not the unit of a mass/],
	["mass", "1,9 kg", /decimal mark/],
	["mass", "1.9", /needs a unit/],
	["mass", "kg", /^$/],
	["mass", "NaN kg", /^$/],
	["mass", "1e999 kg", /finite/],
	["mass", Number.NaN, /finite/],
	["mass", Number.POSITIVE_INFINITY, /finite/],
	["mass", null, /^$/],
	["mass", true, /^$/],
	["mass", [1], /^$/],
	["mass", "1 blorp", /'blorp' is not known/],
	["turnRate", "5 Hz", /does not say an angle/],
	["frequency", "600 rpm", /turn rate/],
	["period", "0 Hz", /above 0/],
	["fraction", "20 kg", /^$/],
	["mass", `1 ${"kg".repeat(5000)}`, /not known/],
];

describe("parseQuantity", () => {
	it.each(GOOD)("reads %s %j", (kind, input, value) => {
		const read = parseQuantity(kind, input);
		expect(read.ok).toBe(true);
		if (read.ok) expect(Math.abs(read.value / value - 1)).toBeLessThan(1e-12);
	});

	it.each(BAD)("refuses %s %j", (kind, input, hint) => {
		const read = parseQuantity(kind, input);
		expect(read.ok).toBe(false);
		if (!read.ok) {
			expect(read.expected).toMatch(/such as/);
			expect(read.hint).toMatch(hint);
		}
	});

	it("says when a mass is read as its weight", () => {
		const read = parseQuantity("force", "620 g");
		expect(read.ok && read.remark).toBe("'620 g' is read as the weight of that mass, 6.08 N");
	});
});
