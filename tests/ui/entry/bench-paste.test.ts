import { describe, expect, it } from "vitest";
import { type PlainUnits, readBench } from "../../../src/ui/entry/bench-paste.ts";

const PLAIN: PlainUnits = {
	command: "%",
	thrust: "g",
	speed: "rpm",
	torque: "N m",
	voltage: "V",
	current: "A",
};
const rows = (text: string, plain = PLAIN) => {
	const read = readBench(text, plain);
	if (!read.ok) throw new Error(read.problems.join("; "));
	return read;
};
const problems = (text: string) => {
	const read = readBench(text, PLAIN);
	return read.ok ? [] : read.problems;
};

describe("readBench", () => {
	it("takes columns by their headings, with the units that these say", () => {
		const read = rows(
			"Throttle (%)\tCurrent [A]\tThrust (gf)\tRPM\tnotes\n10\t0,35\t115\t1050\tfine\n100\t25\t3000\t5400\t",
		);
		expect(read.rows).toEqual([
			{ command: "10 %", current: "0.35 A", thrust: "115 g", speed: "1050 rpm" },
			{ command: "100 %", current: "25 A", thrust: "3000 g", speed: "5400 rpm" },
		]);
		expect(read.said).toBe(
			"2 rows read: command in %, current in A, thrust in g, speed in rpm; left out: 'notes'.",
		);
	});
	it("takes columns by place where there are no headings, and plain numbers in the units chosen", () => {
		const read = rows("0.1,1.13\n1,29.4\n", { ...PLAIN, command: "0 to 1", thrust: "N" });
		expect(read.rows).toEqual([
			{ command: 0.1, thrust: "1.13 N" },
			{ command: 1, thrust: "29.4 N" },
		]);
	});
	it("takes units in the cells before any other", () =>
		expect(rows("10 %\t1.2 N\n1\t300 g").rows).toEqual([
			{ command: "10 %", thrust: "1.2 N" },
			{ command: "1 %", thrust: "300 g" },
		]));
	it("leaves out what was not measured", () =>
		expect(rows("command;thrust;voltage\n10;115;\n90;2000;22,1").rows).toEqual([
			{ command: "10 %", thrust: "115 g" },
			{ command: "90 %", thrust: "2000 g", voltage: "22.1 V" },
		]));
	it("says row, column, value and what was expected", () => {
		expect(problems("command\tthrust\n10\tlots\n20\t200")[0]).toMatch(
			/^row 1, thrust: 'lots', expected a force such as/,
		);
		expect(problems("command\tthrust\n10\t\n20\t200")[0]).toMatch(/^row 1, thrust: '', expected a force/);
		expect(problems("1500\t600\n2000\t1100")[0]).toContain("expected 0 to 100 %, of a pulse its share");
		expect(problems("command\tcurrent\n10\t1\n20\t2")).toEqual([
			"headings 'command', 'current': expected one that says thrust",
		]);
		expect(problems("command\tthrust\n10\t100")).toEqual(["1 row of numbers; expected at least 2"]);
		expect(problems("  ")[0]).toContain("nothing was pasted");
	});
	it("does not guess between thousands and a decimal comma", () =>
		expect(problems("50\t1,070\n100\t2,140")[0]).toContain("write 1070 or 1.070"));
});
