import { describe, expect, it } from "vitest";
import type { Craft } from "../../src/craft/model.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const flown = (
	events: readonly DrillEvent[],
	change: Partial<Drill> = {},
	craft: Craft = sampleCraft(),
	noise = false,
) =>
	fly({
		craft,
		point: NOMINAL_POINT,
		gainSet: sampleGains(),
		drill: { name: "", about: "", durationSec: 2, heightM: 20, seed: 1, events, wind: STILL_AIR, ...change },
		options: { noise, rounding: false, recordPeriodUs: 1000 },
	});
const step: DrillEvent = { atSec: 0.2, kind: "angle", axis: "roll", angleRad: 0.15 };
const at = (column: Float64Array, sec: number): number => column[Math.round(sec * 1000)]!;

describe("a frozen sensor", () => {
	it("goes on saying what it said last, while the craft moves on; then sees again", () => {
		const { columns } = flown([step, { atSec: 0.3, kind: "frozen", sensor: "gyro", durationSec: 0.1 }]).trace;
		const said = columns["rollRateMeasured"]!;
		const real = columns["rollRate"]!;
		const period = sampleCraft().timing.gyro.periodUs * 1e-6;
		const from = 0.3 + 2 * period + 0.002;
		for (const t of [from, 0.35, 0.399]) expect(at(said, t)).toBe(at(said, from));
		expect(Math.abs(at(real, 0.39) - at(real, 0.31))).toBeGreaterThan(0.02);
		expect(Math.abs(at(said, 0.45) - at(real, 0.45))).toBeLessThan(0.1);
		expect(at(said, 0.45)).not.toBe(at(said, 0.35));
	});
	it("of attitude: the angle loop believes itself where it was and turns on past what was asked", () => {
		const free = flown([step]).trace.columns["roll"]!;
		const { columns } = flown([
			{ atSec: 0.15, kind: "frozen", sensor: "attitude", durationSec: 0.7 },
			step,
		]).trace;
		expect(at(free, 0.8)).toBeLessThan(0.17);
		expect(at(columns["roll"]!, 0.8)).toBeGreaterThan(0.25);
		// The gyro still says what it sees.
		expect(Math.abs(at(columns["rollRateMeasured"]!, 0.8) - at(columns["rollRate"]!, 0.8))).toBeLessThan(
			0.05,
		);
	});
});

describe("a glitch", () => {
	it("adds its size to one axis for its time", () => {
		const size = 0.5;
		const { columns } = flown([
			{ atSec: 0.3, kind: "glitch", sensor: "gyro", axis: "pitch", size, durationSec: 0.01 },
		]).trace;
		const said = columns["pitchRateMeasured"]!;
		const real = columns["pitchRate"]!;
		expect(at(said, 0.305) - at(real, 0.305)).toBeGreaterThan(0.3);
		expect(Math.abs(at(columns["rollRateMeasured"]!, 0.305))).toBeLessThan(1e-3);
		expect(Math.abs(at(said, 0.4) - at(real, 0.4))).toBeLessThan(0.2);
	});
});

describe("a loose loop", () => {
	it("leaves out the share of ticks it is told, noise or not", () => {
		const all = flown([]).counters.ticks;
		const loose = flown([{ atSec: 0, kind: "looseLoop", jitterUs: 0, skipChance: 0.3, durationSec: 2 }])
			.counters.ticks;
		// Binomial: three standard deviations.
		expect(Math.abs(loose / all - 0.7)).toBeLessThan(3 * Math.sqrt((0.3 * 0.7) / all));
	});
	it("is over when it is over", () => {
		const whole = flown([step]).trace.columns["roll"]!;
		const early = flown([
			{ atSec: 0, kind: "looseLoop", jitterUs: 300, skipChance: 0.2, durationSec: 0.1 },
			step,
		]).trace.columns["roll"]!;
		expect(Math.abs(at(early, 1.9) - at(whole, 1.9))).toBeLessThan(1e-3);
	});
});

describe("lost frames", () => {
	const lost: DrillEvent = { atSec: 0.3, kind: "framesLost", durationSec: 1 };
	const with_ = (safety: Partial<Craft["safety"]>) => {
		const craft = sampleCraft();
		return { ...craft, safety: { ...craft.safety, signalLostAfterUs: 400_000, ...safety } };
	};
	it("hold the last sticks; what they ask by then comes through afterwards", () => {
		const flight = flown(
			[step, lost, { atSec: 0.5, kind: "angle", axis: "roll", angleRad: 0 }],
			{},
			with_({}),
		);
		const asked = flight.trace.columns["rollSetPoint"]!;
		expect(at(asked, 1.29)).toBe(0.15);
		expect(at(asked, 1.305)).toBe(0);
		expect(flight.notes).toEqual(["signal taken for lost at 0.70 s: it flies on with its last sticks"]);
	});
	it("make a firmware that says so level at its own throttle, until they come back", () => {
		const flight = flown([step, lost], {}, with_({ onSignalLoss: { throttle: 0.4 } }));
		const { rollSetPoint, throttle } = flight.trace.columns;
		expect(at(rollSetPoint!, 0.69)).toBe(0.15);
		expect([at(rollSetPoint!, 0.705), at(throttle!, 0.705)]).toEqual([0, 0.4]);
		expect(at(rollSetPoint!, 1.305)).toBe(0.15);
		expect(flight.notes[0]).toContain("level at 40 % throttle");
	});
	it("make one that stops its motors fall, and it stays safe when they come back", () => {
		const flight = flown([lost], { durationSec: 1.5 }, with_({ onSignalLoss: "makeSafe" }));
		const command = flight.trace.columns["command0"]!;
		expect(at(command, 0.69)).toBeGreaterThan(0.3);
		expect(at(command, 0.75)).toBe(0);
		expect(at(command, 1.45)).toBe(0);
		expect(at(flight.trace.columns["velocityDown"]!, 1.45)).toBeGreaterThan(3);
	});
	it("shorter than that are not noticed", () =>
		expect(
			flown([{ ...lost, durationSec: 0.3 } as DrillEvent], {}, with_({ onSignalLoss: "makeSafe" })).notes,
		).toEqual([]));
});

describe("making live", () => {
	const ground: Partial<Drill> = { start: "ground", heightM: 0 };
	const throttleUp: DrillEvent = { atSec: 0.1, kind: "throttle", throttle: 0.6 };
	const live: DrillEvent = { atSec: 0.3, kind: "makeLive" };
	const guarded = (safety: Partial<Craft["safety"]>) => {
		const craft = sampleCraft();
		return { ...craft, safety: { ...craft.safety, ...safety } };
	};
	it("with throttle up jumps where nothing guards it", () => {
		const { trace, notes } = flown([throttleUp, live], ground);
		const { columns } = trace;
		expect(notes).toEqual(["made live at 0.30 s with throttle at 60 %: the motors go there at once"]);
		expect(flown([live], ground).notes).toEqual([]);
		expect(at(columns["command0"]!, 0.25)).toBe(0);
		expect(at(columns["command0"]!, 0.35)).toBeGreaterThan(0.5);
	});
	it("is refused where the firmware looks at the throttle, and the flight says so", () => {
		const flight = flown([throttleUp, live], ground, guarded({ liveBelowThrottle: 0.05 }));
		expect(Math.max(...flight.trace.columns["command0"]!)).toBe(0);
		expect(flight.notes).toEqual(["not made live at 0.30 s: throttle stood at 60 %, allowed below 5 %"]);
	});
	it("is refused while tilted where the firmware looks at that", () => {
		const slope = {
			slopeRad: 0.2,
			downhillHeadingRad: 1,
			sinkM: 0.002,
			dampingRatio: 0.5,
			friction: 0.8,
			crashMPerSec: 2,
		};
		const flight = flown([live], { ...ground, ground: slope }, guarded({ liveBelowTiltRad: 0.1 }));
		expect(flight.notes[0]).toMatch(/not made live at 0\.30 s: it leant 1[12] deg, allowed below 6 deg/);
	});
});

describe("the electronics supply", () => {
	const supplied = (supply: Partial<Craft["supply"]>) => {
		const craft = sampleCraft();
		return { ...craft, supply: { ...craft.supply, ...supply } };
	};
	const servo = (powerW: number): DrillEvent => ({ atSec: 0.5, kind: "servoLoad", powerW, durationSec: 0.5 });
	it("carries servos up to its limit and browns out beyond it", () => {
		const craft = supplied({ outputV: 5, limitA: 3 });
		const own = craft.battery.avionicsPowerW;
		expect(flown([servo(15 - own - 0.5)], {}, craft).status).toBe("completed");
		const over = flown([servo(15 - own + 0.5)], {}, craft);
		expect(over.status).toBe("brownOut");
		expect(over.reason).toMatch(/ask the supply for 3\.10 A, it gives 3 A/);
		expect(over.timeSec).toBeCloseTo(0.5, 2);
	});
	it("falls with the battery once that stands less than the dropout above the output", () => {
		const flight = flown([], {}, supplied({ outputV: 16, dropoutV: 0.5, brownOutV: 15.5 }));
		expect(flight.status).toBe("brownOut");
		expect(flight.reason).toMatch(
			/leaves the supply's output at 1\d\.\d\d V, the controller restarts below 15\.50 V/,
		);
	});
	it("draws on the battery: voltage falls by the quadratic's root", () => {
		const craft = supplied({ limitA: 100 });
		const { columns } = flown([servo(100)], { durationSec: 1 }, craft).trace;
		const before = at(columns["batteryVoltage"]!, 0.49);
		const after = at(columns["batteryVoltage"]!, 0.502);
		const R = craft.battery.resistanceOhm;
		// V^2 - V0 V + R P = 0, so P at a voltage is V (V0 - V)/R: 100 W more before the rotors have slowed by much.
		const open = craft.battery.openCircuitV[craft.battery.stateOfCharge.indexOf(0.5)]!;
		const power = (v: number): number => (v * (open - v)) / R;
		expect(power(after) - power(before)).toBeGreaterThan(99);
		expect(power(after) - power(before)).toBeLessThan(101);
	});
});
