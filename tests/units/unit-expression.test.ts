import { create, createUnitDependencies, unitDependencies } from "mathjs";
import { describe, expect, it } from "vitest";
import { readUnit } from "../../src/units/unit-expression.ts";

const maths = create({ ...unitDependencies, ...createUnitDependencies });

const SIMPLE =
	"g kg mg m mm cm km s ms us A mA V mV W kW J N mN Pa Hz kHz rad mrad deg in ft lb oz lbf kgf min h K ohm mohm degC degF".split(
		" ",
	);
const COMPOUND =
	"kg m^2|g mm^2|deg/s|rad/s^2|m/s|N m|mN m|lbf ft|kg/m^3|cm^2|N s^2|deg/s/Hz^0.5|A h|W/kg|1/s|N/(rad^2/s^2)|m s^-2".split(
		"|",
	);

describe("readUnit", () => {
	it.each([...SIMPLE, ...COMPOUND])("agrees with mathjs on %s", (text) => {
		const read = readUnit(text)!;
		const outside = maths.unit(text.startsWith("1/") ? text : `1 ${text}`);
		const si = maths.unit(`3 ${text.startsWith("1/") ? text.slice(1) : text}`.replace("3 /", "3 / ")).toSI();
		const value = (si as unknown as { value: number }).value;
		expect(Math.abs(((3 + read.offset) * read.factor) / value - 1)).toBeLessThan(1e-9);
		const d = (outside as unknown as { dimensions: number[] }).dimensions;
		const [mass, length, time, current, temperature, , , angle] = d;
		expect(read.dimensions.map((x) => x + 0)).toEqual(
			[mass, length, time, current, temperature, angle].map((x) => x! + 0),
		);
	});

	it("reads brackets and powers of brackets", () => {
		expect(readUnit("N/(rad/s)^2")!.dimensions).toEqual([1, 1, 0, 0, 0, -2]);
		expect(readUnit("N/((rad/s)(m/s))")!.dimensions).toEqual([1, 0, 0, 0, 0, -1]);
		expect(readUnit("rpm")!.factor).toBeCloseTo(0.10471975511965977, 15);
	});

	it.each([
		"",
		"/",
		"kg/",
		"/kg",
		"(kg",
		"kg)",
		"kg^",
		"^2",
		"kg//m",
		"()",
		"kilo",
		"xg",
		"5",
		"kg 5",
		"kg^m",
		"1",
	])("refuses %j", (text) => {
		expect(readUnit(text)).toBeNull();
	});
});
