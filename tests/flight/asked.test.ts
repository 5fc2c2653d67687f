import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT, type Safety } from "../../src/craft/model.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { FlightResult } from "../../src/flight/result.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

/** Receiver frames every 20 ms, loop and frames every 2 ms, commands without delay. */
function craftWith(safety: Partial<Safety> = {}): Craft {
	const craft = sampleCraft();
	const pulse = { kind: "digital", transportUs: 0, steps: 0 } as const;
	return { ...craft, timing: { ...craft.timing, pulse }, safety: { ...craft.safety, ...safety } };
}
const flown = (events: readonly DrillEvent[], craft = craftWith()): FlightResult =>
	fly({
		craft,
		point: NOMINAL_POINT,
		gainSet: sampleGains(),
		drill: { name: "", about: "", durationSec: 0.8, heightM: 20, seed: 1, events, wind: STILL_AIR },
		options: { noise: false, rounding: false, recordPeriodUs: 1000 },
	});
const at = ({ trace }: FlightResult, name: string, ms: number): number => trace.columns[name]![ms]!;
const stick = (atSec: number): DrillEvent => ({ atSec, kind: "stick", axis: "roll", readingUs: 1750 });
const lost = (atSec: number, durationSec: number): DrillEvent => ({ atSec, kind: "framesLost", durationSec });
/** Half of the stick's throw. */
const HALF_RAD = sampleCraft().sticks.fullTiltRad / 2;

describe("a stick reading", () => {
	it.each([
		["moved before the loss, its frame due within it", 0.101],
		["moved within the loss", 0.151],
	])("%s arrives with the first frame after it", (_, movedSec) => {
		const flight = flown([stick(movedSec), lost(0.11, 0.2)]);
		expect(at(flight, "rollSetPoint", 319)).toBe(0);
		expect(at(flight, "rollSetPoint", 320)).toBeCloseTo(HALF_RAD, 12);
	});
	it("that came before the loss is kept through it", () => {
		const flight = flown([stick(0.081), lost(0.11, 0.2)]);
		for (const ms of [100, 200, 309, 320, 500])
			expect(at(flight, "rollSetPoint", ms)).toBeCloseTo(HALF_RAD, 12);
	});
});

describe("motors asked safe or live while frames are lost", () => {
	it("hear of it when frames are back", () => {
		const flight = flown([lost(0.1, 0.3), { atSec: 0.2, kind: "makeSafe" }]);
		expect(at(flight, "command0", 399)).toBeGreaterThan(0.2);
		expect(at(flight, "command0", 400)).toBe(0);
	});
	it("obey what was asked last", () => {
		const flight = flown([
			lost(0.1, 0.3),
			{ atSec: 0.2, kind: "makeSafe" },
			{ atSec: 0.3, kind: "makeLive" },
		]);
		for (const ms of [250, 399, 402, 500]) expect(at(flight, "command0", ms)).toBeGreaterThan(0.2);
	});
});

describe("losses that overlap", () => {
	const rule = craftWith({ signalLostAfterUs: 300_000, onSignalLoss: "makeSafe" });
	it("are one: it is taken for lost after the sum", () => {
		const flight = flown([lost(0.1, 0.25), lost(0.3, 0.25)], rule);
		expect(flight.notes).toEqual(["signal taken for lost at 0.40 s: motors made safe"]);
		expect(at(flight, "command0", 399)).toBeGreaterThan(0.2);
		expect(at(flight, "command0", 400)).toBe(0);
	});
	it("are taken for lost once, not once each", () =>
		expect(flown([lost(0.1, 0.5), lost(0.2, 0.5)], rule).notes).toHaveLength(1));
	it("apart are two short ones", () =>
		expect(flown([lost(0.1, 0.25), lost(0.4, 0.25)], rule).notes).toEqual([]));
});
