import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadDocument, loadScenario } from "../../src/scenario/load.ts";
import type { ScenarioError } from "../../src/scenario/model.ts";
import { formatPath, setAt, valueAt } from "../../src/scenario/path.ts";
import { bad, GOOD_FILES, type Json, leaves, textOf } from "./files.ts";

const WORDY =
	/^(\$schema|name|note|about|citation|place|shape|source|kind|layout|frontRightSpin|spin|axis|ending|turbulence|structure|units|battery|load|throttle|motorLag|angle|integral|derivative|output|form|derivativeOn|derivativeFilter)$/;

/** A reader must be able to act on every one of them. */
function isClear(error: ScenarioError): void {
	expect(error.value.length).toBeGreaterThan(0);
	expect(error.expected.length).toBeGreaterThan(5);
	expect(error.message).toContain(error.expected);
	expect(error.message).not.toMatch(/undefined|\[object|\n\s+at |Invalid input|ZodError|NaN /);
	expect(error.message.length).toBeLessThan(1200);
}

function errorsOf(document: unknown): readonly ScenarioError[] {
	const result = loadDocument(document);
	if (result.ok) return [];
	result.errors.forEach(isClear);
	return result.errors;
}

describe.each(GOOD_FILES.filter(([file]) => /sandpiper|hex|ten|wren/.test(file)))(
	"%s made bad",
	(_, text) => {
		const document = JSON.parse(text) as Json;
		const all = leaves(document);

		it("names the path of every value of a wrong kind", () => {
			let tried = 0;
			for (const [path] of all)
				for (const wrong of [null, { oops: 1 }, [[["deep"]]]]) {
					const errors = errorsOf(setAt(document, path, wrong));
					const where = formatPath(path);
					expect(errors.some((e) => e.path.startsWith(where) || where.startsWith(e.path))).toBe(true);
					tried++;
				}
			expect(tried).toBeGreaterThan(15);
		});

		it("names the path of every number that is no number, too large, or in no known unit", () => {
			for (const [path, value] of all) {
				const key = String([...path].reverse().find((each) => typeof each === "string"));
				if (typeof value === "boolean" || (typeof value === "string" && WORDY.test(key))) continue;
				for (const wrong of ["NaN", "banana", "12 blorp", "Infinity kg", "", 1e300, -1e300]) {
					const errors = errorsOf(setAt(document, path, wrong));
					expect(
						errors.map((e) => e.path),
						`${formatPath(path)} = ${wrong}`,
					).toContain(formatPath(path));
				}
			}
		});

		it("finds the key that a typo was meant for", () => {
			const groups = new Set(
				all.flatMap(([path]) => path.map((_key, i) => JSON.stringify(path.slice(0, i)))),
			);
			let tried = 0;
			for (const group of groups) {
				const path = JSON.parse(group) as (string | number)[];
				const value = valueAt(document, path);
				if (Array.isArray(value)) continue;
				for (const key of Object.keys(value as object).filter((k) => k.length >= 4 && k[0] !== "$")) {
					if (["shape", "kind", "source", "levelhead"].includes(key)) continue;
					const typo = `${key.slice(0, -2)}${key.at(-1)}${key.at(-2)}x`;
					const renamed = Object.fromEntries(
						Object.entries(value as object).map(([k, v]) => [k === key ? typo : k, v]),
					);
					const errors = errorsOf(path.length === 0 ? renamed : setAt(document, path, renamed));
					const found = errors.find((e) => e.path === formatPath([...path, typo]));
					expect(found?.hint, `${formatPath(path)} ${typo}`).toBe(
						`'${typo}' is not known; did you mean '${key}'?`,
					);
					tried++;
				}
			}
			expect(tried).toBeGreaterThan(5);
		});

		it("names line and column wherever the text is cut short", () => {
			const step = Math.max(1, Math.floor(text.length / 150));
			for (let end = 0; end < text.trimEnd().length; end += step) {
				const errors = bad(text.slice(0, end));
				expect(errors).toHaveLength(1);
				isClear(errors[0]!);
				expect(errors[0]!.message).toMatch(/^line \d+, column \d+: /);
			}
		});
	},
);

const rows = (row: readonly number[]): Json => Array.from({ length: 4 }, () => [...row]);
const onOneSpot: Json = ["a", "b", "c", "d"].map((place) => ({
	place,
	position: [0, 0, 0],
	spin: "clockwise",
}));
const drillOf = (kind: string): Json => ({
	name: "turn",
	duration: "1 s",
	events: [{ kind, at: 0, axis: "roll", angle: "5 deg" }],
});

/** One change, where it is reported, and what the sentence must hold. */
const SINGLE: readonly (readonly [string, string, unknown, string, RegExp])[] = [
	["ten-lines", "craft.mass", -1.2, "craft.mass", /-1\.2.*above 0/],
	["ten-lines", "craft.mass", "1.2 mm", "craft.mass", /'mm' is not the unit of a mass/],
	["ten-lines", "craft.mass", "1,2 kg", "craft.mass", /decimal mark/],
	["ten-lines", "craft.mass", 1200, "craft.mass", /a bare number is kg/],
	["ten-lines", "craft.timing.loop", 500, "craft.timing.loop", /write "500 Hz"/],
	["ten-lines", "craft.timing.loop", undefined, "craft.timing.loop", /nothing.*"500 Hz"/],
	["ten-lines", "craft.wheelbase", undefined, "craft.wheelbase", /nothing.*"450 mm"/],
	["ten-lines", "craft.propeller", undefined, "craft.propeller.diameter", /nothing.*"10 in"/],
	["ten-lines", "craft.motors.maxThrust", undefined, "craft.motors.maxThrust", /nothing.*"850 g"/],
	["ten-lines", "craft.inertia", [0.01, 0.01, 0.03], "craft.inertia", /at most the sum of the other two/],
	["ten-lines", "craft.inertia", [0.01, 0.01, -0.01], "craft.inertia", /principal moment positive/],
	["ten-lines", "craft.inertia", [0.01, 0.01, 0.015, 0.02, 0, 0], "craft.inertia", /principal moment/],
	["ten-lines", "craft.inertia", [0.01, 0.01], "craft.inertia", /\[xx, yy, zz\]/],
	["ten-lines", "craft.airframe", { feetBelow: "-40 mm" }, "craft.airframe.feetBelow", /below the rotors/],
	["ten-lines", "craft.motorNumbers", [1, 2, 2, 4], "craft.motorNumbers[2]", /no other motor has/],
	["ten-lines", "craft.motorNumbers", [1, 2, 3, 4, 5], "craft.motorNumbers", /4 numbers, one per rotor/],
	["ten-lines", "craft.rotors", [], "craft.rotors", /list of 4 to 8/],
	["ten-lines", "craft.layout", "Y", "craft.layout", /one of "X", "plus"/],
	["ten-lines", "craft.air", { temperature: 20 }, "craft.air.temperature", /write "20 degC"/],
	["ten-lines", "craft.air", { altitude: "30 km" }, "craft.air.altitude", /-1000 m to 11000 m/],
	["ten-lines", "craft.air", { density: 1.2, altitude: 100 }, "craft.air.altitude", /'density' is given/],
	["ten-lines", "craft.battery", { brownOut: "18 V" }, "craft.battery.brownOut", /below the full battery/],
	["ten-lines", "craft.battery", { nearlyEmpty: 0.7 }, "craft.battery.nominal", /between nearlyEmpty 0.7/],
	["ten-lines", "craft.battery", { cells: 3.5 }, "craft.battery.cells", /whole number from 1 to 30/],
	[
		"ten-lines",
		"craft.parts",
		[{ name: "all", shape: "box", mass: "1 kg", size: [0.1, 0.1, 0.1] }],
		"craft.mass",
		/sum of the parts, 1 kg/,
	],
	[
		"ten-lines",
		"craft.parts",
		[{ name: "all", shape: "ball", mass: "1 kg" }],
		"craft.parts[0].shape",
		/"point", "box"/,
	],
	["ten-lines", "craft.mixer", { table: rows([0, 0, 0]) }, "craft.mixer.table", /roll has no authority/],
	["ten-lines", "craft.mixer", { table: rows([1, 1, 1]) }, "craft.mixer.table", /roll has no authority/],
	["ten-lines", "craft.rotors", onOneSpot, "craft.rotors", /expected rotors that stand apart/],
	["large-hex", "craft.rotors[3].place", "right", "craft.rotors[3].place", /no other rotor has/],
	["ten-lines", "craft.layout", "hex plsu", "craft.layout", /\(did you mean "hex plus"\?\)$/],
	["ten-lines", "craft.layout", "x", "craft.layout", /\(did you mean "X"\?\)$/],
	["ten-lines", "craft.layout", "Q", "craft.layout", /"octo plus"$/],
	["ten-lines", "drills", [drillOf("anglee")], "drills[0].events[0].kind", /\(did you mean "angle"\?\)$/],
	[
		"ten-lines",
		"operatingPoints",
		[{ name: "late", battery: "nearlyEmty" }],
		"operatingPoints[0].battery",
		/\(did you mean "nearlyEmpty"\?\)$/,
	],
	["ten-lines", "craft.name", "  ", "craft.name", /not only blanks/],
	["ten-lines", "levelhead", 3, "levelhead", /newer than this program/],
	["ten-lines", "levelhead", undefined, "levelhead", /the file's version, 2/],
	["ten-lines", "craft", undefined, "craft", /group in curly brackets/],
	["large-hex", "craft.motors.bench[3].speed", "3000 rpm", "craft.motors.bench[3].speed", /curve must rise/],
	[
		"large-hex",
		"craft.motors.bench[3].command",
		"20 %",
		"craft.motors.bench[3].command",
		/above the command before it, 0.3/,
	],
	["large-hex", "craft.motors.maxThrust", "3 kg", "craft.motors.maxThrust", /bench table says it/],
	[
		"large-hex",
		"craft.battery.openCircuit[2].cellVoltage",
		"3.6 V",
		"craft.battery.openCircuit[2].cellVoltage",
		/above the value before it/,
	],
	[
		"large-hex",
		"craft.sticks.roll.centre",
		"2100 us",
		"craft.sticks.roll.centre",
		/between low 988 us and high 2012 us/,
	],
	[
		"large-hex",
		"craft.timing.pulse.longest",
		"900 us",
		"craft.timing.pulse.longest",
		/longer than the shortest/,
	],
	["large-hex", "craft.load.inertia", [1, 1, 3], "craft.load.inertia", /sum of the other two/],
	[
		"large-hex",
		"craft.mixer.table",
		[
			[1, 1, 1],
			[1, 1, 1],
			[1, 1, 1],
			[1, 1, 1],
		],
		"craft.mixer.table",
		/6 rows/,
	],
	["large-hex", "gainSets[1].name", "A", "gainSets[1].name", /no other set/],
	["large-hex", "gainSets[1].roll.ki", 3, "gainSets[1].roll.ki", /ti and td/],
	["large-hex", "gainSets[1].yaw.kp", 0, "gainSets[1].yaw.kp", /above 0 in the standard form/],
	["large-hex", "gainSets[0].roll.kAngle", undefined, "gainSets[0].roll.kAngle", /cascade needs it/],
	[
		"large-hex",
		"gainSets[0].roll.derivativeCutoff",
		"200 Hz",
		"gainSets[0].roll.derivativeCutoff",
		/half the loop rate, 125/,
	],
	["large-hex", "gainSets[0].structure", "rateOnly", "gainSets[0].roll.kAngle", /no outer loop/],
	["large-hex", "firmware.output", "counts", "firmware.outputFullScale", /timer counts/],
	["large-hex", "firmware.motorNumbers", [1, 2, 3, 4], "firmware.motorNumbers", /6 numbers/],
	["large-hex", "drills[0].events[0].at", "20 s", "drills[0].events[0].at", /within the drill's 9 s/],
	["large-hex", "drills[0].wind.gusts[0].at", "20 s", "drills[0].wind.gusts[0].at", /within the drill's 9 s/],
	["large-hex", "drills[0].wind.turbulence", "breezy", "drills[0].wind.turbulence", /"light", "moderate"/],
	["large-hex", "operatingPoints[0].battery", "half", "operatingPoints[0].battery", /"nearlyEmpty"/],
];

describe("single faults", () => {
	it.each(SINGLE)("%s: %s = %j", (file, at, value, where, sentence) => {
		const keys = at.split(/\.|(?=\[)/).map((k) => (k.startsWith("[") ? Number(k.slice(1, -1)) : k));
		const errors = errorsOf(JSON.parse(JSON.stringify(setAt(JSON.parse(textOf(file)), keys, value))));
		const found = errors.find((e) => e.path === where);
		expect(found?.message ?? errors.map((e) => e.message).join("\n")).toMatch(sentence);
	});

	it("a load that no craft has cannot be taken up without a mass", () => {
		const document = JSON.parse(textOf("ten-lines")) as { [key: string]: Json };
		const drills = [{ name: "x", duration: 1, events: [{ kind: "takeUp", at: 0.5 }] }];
		expect(errorsOf({ ...document, drills })[0]).toMatchObject({ path: "drills[0].events[0].mass" });
	});

	it("reports many faults at once", () => {
		const document = setAt(
			setAt(JSON.parse(textOf("ten-lines")), ["craft", "mass"], -1),
			["craft", "wheelbase"],
			"x",
		);
		expect(errorsOf(document).map((e) => e.path)).toEqual(["craft.mass", "craft.wheelbase"]);
	});
});

describe("text that is no JSON", () => {
	it.each([
		['{\n\t"levelhead": 2,\n}', /^line 3, column 1: '}'.*comma too many/],
		['{\n\t"levelhead": 2\n\t"craft": {}\n}', /^line 3, column 2: a quote.*comma is missing/],
		["{ 'levelhead': 2 }", /^line 1, column 3: .*double quotes/],
		['{ "a": 1, "a": 2 }', /^line 1, column 11: .*"a" stands twice/],
		['{ "a": 520 mm }', /^line 1, column 12: .*"," or "}"/],
		['{ "a": 520mm }', /with a unit goes in quotes/],
		['{ "a": NaN }', /numbers are written like/],
		['{ "a": .5 }', /numbers are written like/],
		['{ "a": 1e999 }', /below 1e308/],
		['{ "a": 1 } // done', /JSON has no comments/],
		['{ "a": "x\ny" }', /not closed on its line/],
		["", /the end of the file/],
		[`${"[".repeat(5000)}${"]".repeat(5000)}`, /at most 60 brackets/],
		["[]", /group in curly brackets/],
		["null", /group in curly brackets/],
		['{ "levelhead": 2, "craft": {}, "__proto__": { "mass": 1 } }', /'__proto__' is not known/],
	])("%j", (text, sentence) => {
		const errors = bad(text);
		errors.forEach(isClear);
		expect(errors.map((e) => e.message).join("\n")).toMatch(sentence);
	});

	it("never throws, and finds a fault exactly where JSON.parse does", () => {
		const mutated = fc
			.tuple(fc.constant(textOf("ten-lines")), fc.nat(250), fc.string({ maxLength: 3 }), fc.nat(3))
			.map(([text, at, put, cut]) => text.slice(0, at) + put + text.slice(at + cut));
		fc.assert(
			fc.property(fc.oneof(mutated, fc.string(), fc.json()), (text) => {
				let parses = true;
				try {
					JSON.parse(text);
				} catch {
					parses = false;
				}
				const result = loadScenario(text);
				const fault = !result.ok && /^line \d+/.test(result.errors[0]!.message);
				const stricter = fault && /each key once|brackets|1e308/.test(result.errors[0]!.expected);
				expect(fault && !stricter).toBe(!parses && !stricter);
			}),
			{ numRuns: 400 },
		);
	});

	it("never throws on any document", () => {
		fc.assert(
			fc.property(fc.jsonValue(), fc.jsonValue(), (craft, rest) => {
				const document = { levelhead: 2, craft, ...(typeof rest === "object" ? rest : { rest }) };
				errorsOf(document);
			}),
		);
	});
});
