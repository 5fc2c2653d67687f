import { describe, expect, it } from "vitest";
import { craftReport, verdict } from "../../src/analysis/craft-report.ts";
import type { Finding } from "../../src/analysis/craft-report-types.ts";
import { RULES } from "../../src/analysis/finding-rules.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import type { GainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { unequalCraft } from "../fixtures/clocks.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const craft = sampleCraft();
const change = (part: Partial<Craft>): Craft => ({ ...craft, ...part });
const find = (
	c: Craft,
	rule: string,
	point: OperatingPoint = NOMINAL_POINT,
	set?: GainSet,
): Finding | undefined => {
	const margins = set ? marginsReport(c, set, point) : null;
	const found = craftReport(c, point, margins?.feasible ? margins.report : null);
	return found.findings.find((f) => f.rule === rule);
};
const timing = (part: Partial<Craft["timing"]>): Craft => change({ timing: { ...craft.timing, ...part } });
const propulsion = (part: Partial<Craft["propulsion"]>): Craft =>
	change({ propulsion: { ...craft.propulsion, ...part } });
const mass = (massKg: number): Craft => change({ bare: { ...craft.bare, massKg } });
const spins = (list: readonly (1 | -1)[]): Craft =>
	change({ rotors: craft.rotors.map((r, i) => ({ ...r, spin: list[i]! })) });

describe("hover numbers, by hand", () => {
	const { hover } = craftReport(craft, NOMINAL_POINT);
	const weight = 1.9 * 9.80665;

	it("speed, command, power and slope", () => {
		const w = Math.sqrt(weight / (4 * 1.891e-5));
		expect(hover!.rotorSpeedRadPerSec).toBeCloseTo(w, 6);
		const shaft = 4 * 3.36e-7 * w ** 3;
		expect(hover!.powerW).toBeCloseTo(shaft / 0.72 + 6, 6);
		const volts = (15.1 + Math.sqrt(15.1 ** 2 - 4 * 0.025 * hover!.powerW)) / 2;
		expect(hover!.voltageV).toBeCloseTo(volts, 9);
		expect(hover!.command).toBeCloseTo(0.05 + ((w * 14.8) / volts - 90) / (655 / 0.95), 6);
		// Without sag: 2 kT W dW/dc per rotor; sag takes up to a tenth of it.
		const stiff = (0.01 * 4 * 2 * 1.891e-5 * w * (655 / 0.95) * (volts / 14.8)) / 1.9;
		expect(hover!.throttleSlope).toBeLessThan(stiff);
		expect(hover!.throttleSlope).toBeGreaterThan(0.9 * stiff);
	});

	it("full thrust on the sagging battery", () => {
		const full = hover!.thrustToWeight * weight;
		const w = Math.sqrt(full / (4 * 1.891e-5));
		const power = (4 * 3.36e-7 * w ** 3) / 0.72 + 6;
		const volts = (15.1 + Math.sqrt(15.1 ** 2 - 4 * 0.025 * power)) / 2;
		expect(w).toBeCloseTo((745 * volts) / 14.8, 6);
	});

	it("endurance: a flat battery without resistance lasts charge times voltage over power", () => {
		const flat = change({
			battery: { ...craft.battery, openCircuitV: [15, 15, 15, 15, 15], resistanceOhm: 0, nearlyEmpty: 0.2 },
		});
		const h = craftReport(flat, NOMINAL_POINT).hover!;
		expect(h.enduranceMin).toBeCloseTo((60 * 5.2 * 0.8 * 15) / h.powerW, 6);
	});
});

describe("findings: every rule with an example", () => {
	const examples: readonly [string, Finding["level"], RegExp, () => Finding | undefined][] = [
		["cannotHover", "stop", /full throttle lifts/, () => find(mass(9), "cannotHover")],
		["thrustToWeight", "stop", /only 1\.\d\d/, () => find(mass(3.1), "thrustToWeight")],
		["thrustToWeight", "care", /is 1\.\d\d/, () => find(mass(2.3), "thrustToWeight")],
		["thrustToWeight", "fine", /is 2\.00/, () => find(craft, "thrustToWeight")],
		["hoverStick", "care", /little is left above/, () => find(craft, "hoverStick")],
		[
			"hoverStick",
			"care",
			/low stick is touchy/,
			() => find(propulsion({ thrustCoefficient: 2e-4, torqueCoefficient: 2e-6 }), "hoverStick"),
		],
		[
			"hoverStick",
			"fine",
			/Expect hover at \d+ %/,
			() => find(propulsion({ thrustCoefficient: 3e-5 }), "hoverStick"),
		],
		[
			"throttleSlope",
			"care",
			/lifts with 0\.\d\d m/,
			() => find(propulsion({ thrustCoefficient: 8e-5 }), "throttleSlope"),
		],
		["brownOut", "fine", /13\.26 V are left, 1\.76 V above/, () => find(craft, "brownOut")],
		[
			"brownOut",
			"care",
			/only 0\.26 V above/,
			() => find(change({ battery: { ...craft.battery, brownOutV: 13 } }), "brownOut"),
		],
		[
			"brownOut",
			"care",
			/0\.24 V too few/,
			() => find(change({ battery: { ...craft.battery, brownOutV: 13.5 } }), "brownOut"),
		],
		[
			"brownOut",
			"care",
			/more than the 43 W it can give/,
			() => find(change({ battery: { ...craft.battery, resistanceOhm: 1.2 } }), "brownOut"),
		],
		["lostCorners", "care", /cannot hover, such as hover, /, () => find(mass(3.1), "lostCorners")],
		["endurance", "fine", /about 1\d\.\d min/, () => find(craft, "endurance")],
		[
			"endurance",
			"care",
			/land early/,
			() => find(change({ battery: { ...craft.battery, capacityAmpereHours: 1 } }), "endurance"),
		],
		[
			"endurance",
			"care",
			/No hover until nearly empty: at 1\d % charge/,
			() => find(mass(3.7), "endurance", { ...NOMINAL_POINT, battery: "full" }),
		],
		[
			"rotorSpin",
			"stop",
			/face each other and turn opposite ways/,
			() => find(spins([1, 1, -1, -1]), "rotorSpin"),
		],
		["rotorSpin", "stop", /All 4 rotors turn the same way/, () => find(spins([1, 1, 1, 1]), "rotorSpin")],
		["rotorSpin", "care", /3 rotors turn clockwise and 1/, () => find(spins([1, 1, 1, -1]), "rotorSpin")],
		["rotorSpin", "fine", /2 rotors turn each way/, () => find(craft, "rotorSpin")],
		[
			"yawAuthority",
			"care",
			/Holding heading takes \d+ %/,
			() =>
				find(
					change({
						rotors: craft.rotors.map((r, i) => ({
							...r,
							axis: i === 0 ? ([0.03, -0.03, -Math.sqrt(1 - 0.0018)] as const) : r.axis,
						})),
					}),
					"yawAuthority",
				),
		],
		[
			"balance",
			"care",
			/the front (right|left) motor needs \d+ % and the rear/,
			() => find(change({ bare: { ...craft.bare, centreOfMassM: [0.05, 0, 0] } }), "balance"),
		],
		[
			"attitudeSlow",
			"care",
			/comes every 10 ms while the loop runs every 2 ms: angles are 8 ms old/,
			() => find(unequalCraft(), "attitudeSlow"),
		],
		[
			"gyroSlow",
			"care",
			/every 4 ms, the loop runs every 2 ms/,
			() => find(timing({ gyro: { periodUs: 4000, phaseUs: 0 } }), "gyroSlow"),
		],
		[
			"gyroLowPass",
			"care",
			/low-pass at 10 Hz lags by 15\.\d+ ms/,
			() => find(change({ sensors: { ...craft.sensors, gyroLowPassHz: 10 } }), "gyroLowPass"),
		],
		[
			"frameSlow",
			"care",
			/every 2\.04 ms, the loop makes one every 2 ms: commands wait 1 ms/,
			() => find(unequalCraft(), "frameSlow"),
		],
		[
			"freePhase",
			"care",
			/1 clock runs free of the loop \(speed-controller frame\)/,
			() => find(timing({ escFrame: { periodUs: 2000, phaseUs: "free" } }), "freePhase"),
		],
		[
			"skippedTicks",
			"care",
			/skips 2\.0 % of its ticks/,
			() => find(timing({ control: { periodUs: 2000, jitterUs: 0, skipChance: 0.02 } }), "skippedTicks"),
		],
		["motorLag", "care", /need 150 ms to follow/, () => find(propulsion({ tauDownSec: 0.15 }), "motorLag")],
		[
			"motorLag",
			"stop",
			/need 5000 ms to follow: the loops can be quick only below about 0\.032 Hz/,
			() => find(propulsion({ tauUpSec: 5 }), "motorLag"),
		],
		[
			"loopSlow",
			"care",
			/only every 25 ms/,
			() => find(timing({ control: { periodUs: 25_000, jitterUs: 0, skipChance: 0 } }), "loopSlow"),
		],
		[
			"loopSlow",
			"stop",
			/only every 200 ms: a craft falls over/,
			() => find(timing({ control: { periodUs: 200_000, jitterUs: 0, skipChance: 0 } }), "loopSlow"),
		],
		[
			"margins",
			"fine",
			/Weakest margin: (roll|pitch) whole axis, phase margin 4\d\.\d deg|Weakest margin/,
			() =>
				find(craft, "margins", NOMINAL_POINT, {
					...sampleGains(),
					roll: { ...sampleGains().roll, kd: 0.006 },
					pitch: { ...sampleGains().pitch, kd: 0.006 },
				}),
		],
		[
			"margins",
			"care",
			/Weakest margin: pitch whole axis, phase margin 44\.6 deg/,
			() => find(craft, "margins", NOMINAL_POINT, sampleGains()),
		],
		[
			"margins",
			"stop",
			/unstable: it grows by a factor/,
			() =>
				find(craft, "margins", NOMINAL_POINT, { ...sampleGains(), roll: { ...sampleGains().roll, kp: 5 } }),
		],
		["energy", "care", /push with 34 N .* propellers off/, () => find(craft, "energy")],
		["signalLoss", "care", /flies on with its last sticks, 0.5 s later/, () => find(craft, "signalLoss")],
		["invented", "care", /Invented craft of 1\.90 kg/, () => find(craft, "invented")],
	];

	it.each(examples)("%s %s %s", (_, level, sentence, run) => {
		const found = run();
		expect(found?.sentence).toMatch(sentence);
		expect(found?.level).toBe(level);
		expect(found?.reason).not.toBe("");
	});

	it("the table has no rule without an example, and none speaks without a number", () => {
		expect(new Set(examples.map(([name]) => name))).toEqual(new Set(RULES.map((rule) => rule.name)));
		for (const [name, , , run] of examples) {
			const { sentence } = run()!;
			expect(`${name}: ${sentence}`).toMatch(/: .*\d/);
		}
	});

	it("rules without a cause are silent", () => {
		for (const rule of [
			"cannotHover",
			"throttleSlope",
			"lostCorners",
			"yawAuthority",
			"balance",
			"attitudeSlow",
			"gyroSlow",
			"gyroLowPass",
			"frameSlow",
			"freePhase",
			"skippedTicks",
			"motorLag",
			"margins",
		])
			expect(find(craft, rule)).toBeUndefined();
	});

	it("verdict: a stop is not fit; else the first thing weak about this craft", () => {
		expect(craftReport(mass(9), NOMINAL_POINT).verdict).toMatchObject({
			fit: false,
			sentence: expect.stringMatching(/^Not fit to hover/),
		});
		expect(craftReport(craft, NOMINAL_POINT).verdict).toMatchObject({
			fit: true,
			sentence: expect.stringMatching(/^It can hover.*no gains were judged\. Take care: .*64 % stick/),
		});
		const judged = { rule: "margins", level: "fine", sentence: "Weakest margin: roll.", reason: "" } as const;
		expect(verdict([judged]).sentence).toBe("Fit to hover, on these numbers. Weakest margin: roll.");
		expect(verdict([])).toMatchObject({ fit: true, level: "fine" });
		const weak = { rule: "margins", level: "care", sentence: "Thin.", reason: "" } as const;
		expect(verdict([weak])).toMatchObject({ fit: true, level: "care" });
	});
});
