import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadDocument, loadScenario, withValue } from "../../src/scenario/load.ts";
import { bad, GOOD_FILES, good, leaves, textOf } from "./files.ts";

describe.each(GOOD_FILES)("%s", (_, text) => {
	const scenario = good(text);

	it("keeps the document as it is, through text and back", () => {
		expect(scenario.document).toEqual(JSON.parse(text));
		const again = good(JSON.stringify(scenario.document));
		expect(again).toEqual(scenario);
	});

	it("is complete: no number is missing or not finite", () => {
		const { document: _d, tuning: _t, assumed: _a, warnings: _w, ...numbers } = scenario;
		for (const [path, value] of leaves(JSON.parse(JSON.stringify(numbers))))
			if (value === null)
				expect([
					"citation",
					"table",
					"motorNumbers",
					"roughnessM",
					"turbulence",
					"estimatorTimeConstantSec",
					"liveBelowThrottle",
					"liveBelowTiltRad",
					"stiffnessNmPerRad",
				]).toContain(path.at(-1));
		expect(JSON.stringify(numbers)).toBe(
			JSON.stringify(numbers, (_key, v) => {
				if (typeof v === "number" && !Number.isFinite(v)) throw new Error(`not finite: ${_key}`);
				return v as unknown;
			}),
		);
	});

	it("writes every assumption with value, reason, source and a way to measure", () => {
		for (const each of scenario.assumed) {
			expect(each.path).toMatch(/^(craft|operatingPoints|drills|gainSets)/);
			for (const text of [each.value, each.because, each.source, each.measure])
				expect(text.length).toBeGreaterThan(0);
			expect(each.value + each.because).not.toMatch(/NaN|undefined|Infinity/);
		}
	});
});

describe("the ten-line craft", () => {
	const { craft, assumed, drills, operatingPoints, gainSets } = good(textOf("ten-lines"));

	it("is ten lines", () => {
		expect(textOf("ten-lines").trim().split("\n")).toHaveLength(10);
	});

	it("becomes a complete craft with what was given", () => {
		expect(craft.bare.massKg).toBe(1.2);
		expect(craft.rotors).toHaveLength(4);
		expect(craft.propulsion.tauUpSec).toBe(0.05);
		expect(craft.timing.control.periodUs).toBe(2000);
		const full = craft.propulsion.curve.speedsRadPerSec.at(-1)!;
		expect(craft.propulsion.thrustCoefficient * full ** 2).toBeCloseTo(0.85 * 9.80665, 10);
	});

	it("has drills and operating points to fly, no gains", () => {
		expect(drills.map((d) => d.name)).toContain("roll step");
		expect(operatingPoints[0]!.name).toBe("nominal");
		expect(gainSets).toEqual([]);
	});

	it("assumes what was not given, and only that", () => {
		const paths = assumed.map((a) => a.path);
		for (const path of [
			"craft.inertia",
			"craft.motors.torqueCoefficient",
			"craft.motors.rotorInertia",
			"craft.timing.attitude",
		])
			expect(paths).toContain(path);
		for (const path of ["craft.mass", "craft.wheelbase", "craft.motors.lagUp", "craft.timing.loop"])
			expect(paths).not.toContain(path);
		expect(new Set(paths).size).toBe(paths.length);
	});
});

describe("values given are values used", () => {
	const hex = good(textOf("large-hex"));

	it("reads clocks in whole microseconds, from rates and from times", () => {
		const at = (period: string) => {
			const document = withValue(JSON.parse(textOf("sandpiper")), "craft.timing.frame.period", period);
			const result = loadDocument(document);
			if (!result.ok) throw new Error(result.errors[0]!.message);
			return result.scenario.craft.timing.escFrame.periodUs;
		};
		expect(at("490 Hz")).toBe(2041);
		expect(at("2040 us")).toBe(2040);
		expect(at("2.04 ms")).toBe(2040);
	});

	it("converts gains typed in firmware units: Kp 1.4 us per deg/s, Ti 1.6 s, Td 0.02 s", () => {
		const typed = hex.gainSets[1]!.roll;
		const kp = (1.4 / 1000) * (180 / Math.PI);
		expect(typed.kp).toBeCloseTo(kp, 12);
		expect(typed.ki).toBeCloseTo(kp / 1.6, 12);
		expect(typed.kd).toBeCloseTo(kp * 0.02, 12);
		expect(typed.kAngle).toBeCloseTo(1.2, 12);
		expect(hex.gainSets[1]!.yaw.kd).toBe(0);
		expect(hex.gainSets[0]!.roll.kp).toBe(0.08);
	});

	it("turns limits, points, sticks and drills into the model's units", () => {
		expect(hex.tuning.even!["phaseMarginDeg"]).toBeCloseTo(50, 12);
		expect(hex.tuning.even!["leastDelayMarginSec"]).toBeCloseTo(0.002, 15);
		expect(hex.tuning.even!["noiseRms"]).toBeCloseTo(0.015, 15);
		expect(hex.operatingPoints[0]!.point).toMatchObject({
			battery: { stateOfCharge: 0.4 },
			load: { massKg: 0.7 },
			windMPerSec: [5, 0, 0],
		});
		expect(hex.craft.sticks.roll).toMatchObject({ lowUs: 988, highUs: 2012, reverse: true });
		expect(hex.craft.air.densityKgM3).toBeCloseTo(1.129, 3);
		expect(hex.drills[0]!.events.map((e) => e.kind)).toEqual(
			"angle rate stick throttle torque force stall takeUp letGo".split(" "),
		);
	});

	it("says when grams are read as a force", () => {
		expect(good(textOf("ten-lines")).warnings[0]).toEqual({
			kind: "unit",
			path: "craft.motors.maxThrust",
			sentence: "'850 g' is read as the weight of that mass, 8.336 N",
		});
	});
});

describe("withValue", () => {
	const document: unknown = JSON.parse(textOf("sandpiper"));
	const load = (changed: unknown) => {
		const result = loadDocument(changed);
		if (!result.ok) throw new Error(result.errors[0]!.message);
		return result.scenario;
	};

	it("sets one number anywhere and leaves the rest", () => {
		expect(load(withValue(document, "gainSets.B.roll.kp", 0.077)).gainSets[1]!.roll.kp).toBe(0.077);
		expect(load(withValue(document, "gainSets[0].yaw.ki", 0.01)).gainSets[0]!.yaw.ki).toBe(0.01);
		expect(
			load(withValue(document, "craft.battery.resistance", "31 mohm")).craft.battery.resistanceOhm,
		).toBeCloseTo(0.031, 15);
		expect(load(withValue(document, "craft.air.altitude", "1000 m")).craft.air.densityKgM3).toBeCloseTo(
			1.11164,
			5,
		);
		expect(load(document)).toEqual(good(textOf("sandpiper")));
		expect(document).toEqual(JSON.parse(textOf("sandpiper")));
	});

	it.each([
		["craft.motors.lagUp", -0.01, 0.2],
		["craft.load.mass", -0.1, 3],
		["gainSets.A.roll.kp", -0.01, 0.2],
		["gainSets.B.yaw.derivativeCutoff", 1, 500],
		["drills[0].events[0].at", 0, 6],
		["operatingPoints[1].inertiaFactor", 0, 2],
		["firmware.outputFullScale", -100, 2000],
	])("gives what the changed text would give, whatever was loaded before: %s", (path, min, max) => {
		fc.assert(
			fc.property(fc.double({ min, max, noNaN: true }), (value) => {
				// JSON has no minus zero.
				const changed = withValue(document, path, value + 0);
				expect(loadDocument(changed)).toEqual(loadScenario(JSON.stringify(changed)));
			}),
			{ numRuns: 20 },
		);
	});

	it("refuses a path that leads nowhere, and a value that is wrong is an error as ever", () => {
		expect(() => withValue(document, "gainSets.Z.roll.kp", 1)).toThrow(/names A, B/);
		expect(() => withValue(document, "gainSets[7].roll.kp", 1)).toThrow(/index below 2/);
		expect(() => withValue(document, "craft..mass", 1)).toThrow(/expected keys between dots/);
		expect(() => withValue(document, "name.x", 1)).toThrow(/nothing inside/);
		const result = loadDocument(withValue(document, "craft.motors.lagg", 1));
		expect(result.ok ? "" : result.errors[0]!.message).toMatch(/did you mean 'lag'/);
	});
});

describe("version 1", () => {
	const old = JSON.stringify({
		levelhead: 1,
		craft: {
			mass: "1.2 kg",
			wheelbase: "450 mm",
			propeller: { diameter: "10 in" },
			motors: { staticThrust: "850 g", lag: "50 ms" },
			timing: { loopRate: "500 Hz" },
		},
		gainSets: { A: { roll: { kAngle: 2, kp: 0.05 }, yaw: { kp: 0.1 } } },
	});

	it("is read as the same craft", () => {
		const scenario = good(old);
		expect(scenario.craft).toEqual(good(textOf("ten-lines")).craft);
		expect(scenario.gainSets.map((set) => set.name)).toEqual(["A"]);
		expect(scenario.document).toEqual(JSON.parse(old));
	});

	it("does not know the keys of version 2, nor version 2 those of version 1", () => {
		expect(bad(old.replace("1.2 kg", "1.2 km"))[0]!.path).toBe("craft.mass");
		const mixed = { ...JSON.parse(textOf("ten-lines")), gainSets: { A: {} } };
		expect(bad(JSON.stringify(mixed))[0]!.path).toBe("gainSets");
		const two = textOf("ten-lines").replace('"loop"', '"loopRate"');
		expect(bad(two)[0]!.hint).toBe("'loopRate' is not known");
	});

	it("is migrated before one value is set", () => {
		const changed = withValue(JSON.parse(old), "craft.timing.loop", "250 Hz");
		const result = loadDocument(changed);
		expect(result.ok && result.scenario.craft.timing.control.periodUs).toBe(4000);
		expect(loadScenario(JSON.stringify(changed)).ok).toBe(true);
	});
});
