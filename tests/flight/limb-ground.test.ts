import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, LEVEL_GROUND } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import type { FlightResult } from "../../src/flight/result.ts";
import {
	craft,
	drillOf,
	gainSets,
	leastAllocatedInMoves,
	moveAtSec,
	QUIET,
} from "../fixtures/sandpiper-flight.ts";

const DEG = Math.PI / 180;
const G = 9.80665;
const gainSet = gainSets[0]!;
const LOAD_KG = 0.3;
const limb = (atSec: number, boomDeg: number, overSec?: number): DrillEvent[] =>
	[boomDeg, -boomDeg].map((degrees, link) => ({
		atSec,
		kind: "limb",
		link,
		angleRad: degrees * DEG,
		...(overSec && { overSec }),
	}));
const grab = (atSec: number, fromGround = true): DrillEvent => ({
	atSec,
	kind: "takeUp",
	massKg: LOAD_KG,
	positionM: craft.limb!.gripM,
	inGrip: true,
	...(fromGround && { fromGround }),
});
const below: OperatingPoint = { ...NOMINAL_POINT, limbRad: [Math.PI / 2, -Math.PI / 2] };
const flown = (drill: Drill, point: OperatingPoint = NOMINAL_POINT): FlightResult =>
	fly({ craft, point, gainSet, drill, options: QUIET });
const at = ({ trace }: FlightResult, name: string, sec: number): number =>
	trace.columns[name]![trace.columns["time"]!.findIndex((t) => t >= sec - 1e-9)]!;
const thrustN = (result: FlightResult, sec: number): number =>
	craft.rotors.reduce(
		(sum, _, i) => sum + craft.propulsion.thrustCoefficient * at(result, `rotorSpeed${i}`, sec) ** 2,
		0,
	);
/** Feet at this height bring a load in the grip, boom straight down, onto the ground. */
const REACH_M = 0.163;

describe("a load that stands on the ground", () => {
	const hover = { heightM: REACH_M };

	it("is gripped without a jump: its weight stays on the ground", () => {
		const result = flown(drillOf([grab(1)], hover), below);
		const free = flown(drillOf([], hover), below);
		expect(result.status).toBe("completed");
		expect(result.notes.join()).toMatch(/load gripped at 1\.00 s where it stood on the ground/);
		for (const sec of [1.02, 1.5, 2.9]) {
			expect(Math.abs(at(result, "pitch", sec))).toBeLessThan(0.2 * DEG);
			expect(thrustN(result, sec) / thrustN(free, sec)).toBeCloseTo(1, 3);
			// Place of the whole's centre, which is the lower by the load.
			expect(Math.abs(at(result, "down", sec) - at(result, "down", 1.01))).toBeLessThan(5e-4);
		}
		// The same load out of nowhere brings the craft down.
		const nowhere = flown(drillOf([grab(1, false)], { heightM: 1.163 }), below);
		expect(at(nowhere, "down", 1.8) - at(nowhere, "down", 1.01)).toBeGreaterThan(0.2);
	});

	it("is left where it is when the grip is too high above it", () => {
		const result = flown(drillOf([grab(1)], { heightM: 0.3 }), below);
		expect(result.notes.join()).toMatch(
			/load not taken up at 1\.00 s: the place where it would be held was 1\d\d mm above the middle of the load on the ground, expected within 40 mm, the grip's radius or half the load's size/,
		);
		expect(at(result, "down", 2.9)).toBeCloseTo(at(result, "down", 0.9), 3);
	});

	it("is lifted by the limb of a standing craft and set down again", () => {
		const events = [...limb(0.3, 13), grab(2), ...limb(2.5, 0, 1), ...limb(5, 13.1, 1)];
		const result = flown(
			drillOf([...events, { atSec: 8, kind: "letGo" }], { start: "ground", durationSec: 9 }),
		);
		expect(result.status).toBe("completed");
		// Boom 48 g at 105 mm, scoop 82 g and load at 210 mm from the hinge; the craft leans by under half a degree.
		const links = (0.048 * 0.105 + 0.082 * 0.21) * G;
		const carried = links + LOAD_KG * 0.21 * G;
		expect(-at(result, "limbTorque0", 0.2) / links).toBeCloseTo(1, 2);
		expect(-at(result, "limbTorque0", 2.4) / at(result, "limbTorque0", 1.9)).toBeCloseTo(-1, 2);
		expect(-at(result, "limbTorque0", 4.5) / carried).toBeCloseTo(1, 2);
		expect(result.notes.join()).toMatch(/load let go at 8\.00 s, standing on the ground/);
		expect(-at(result, "limbTorque0", 8.9) / (links * Math.cos(13.1 * DEG))).toBeCloseTo(1, 2);
	});
});

describe("a load on the ground at the end of a slack cord", () => {
	const lengthM = 0.4;
	const on = (cordM: number): Craft => ({
		...craft,
		load: { ...craft.load, tether: { lengthM: cordM, dampingRatio: 0.01 } },
	});
	const climb: DrillEvent = { atSec: 1, kind: "throttle", throttle: 0, ofHover: 1.06 };
	const tie: DrillEvent = {
		atSec: 0.5,
		kind: "takeUp",
		massKg: LOAD_KG,
		positionM: [0, 0, 0.1],
		fromGround: true,
	};
	const rise = (cordM: number): FlightResult =>
		fly({
			craft: on(cordM),
			point: NOMINAL_POINT,
			gainSet,
			drill: drillOf([tie, climb], { heightM: 0.2, durationSec: 3 }),
			options: QUIET,
		});

	it("does nothing until it is taut, then slows the craft by the momentum of a load at rest and leaves its weight on the ground", () => {
		const result = rise(lengthM);
		expect(result.notes.join()).toMatch(/tied on at 0\.50 s, its cord slack/);
		const taut = Number(/pulled taut at (\d\.\d\d) s/.exec(result.notes.join())![1]);
		// Tied at 0.255 m, the load's middle at 0.0325 m: 0.1775 m to climb.
		const free = rise(4);
		const climbed = (sec: number): number => at(free, "down", 0.9) - at(free, "down", sec);
		expect(climbed(taut - 0.01)).toBeLessThan(0.1775 + 5e-4);
		expect(climbed(taut + 0.01)).toBeGreaterThan(0.1775 - 5e-4);
		expect(Math.abs(at(result, "down", taut - 0.02) - at(free, "down", taut - 0.02))).toBe(0);
		const before = at(free, "velocityDown", taut + 0.005);
		const share = craft.bare.massKg / (craft.bare.massKg + LOAD_KG);
		expect(before).toBeLessThan(-0.2);
		// Some milliseconds after the blow, 3 N more on 2 kg.
		expect(Math.abs(at(result, "velocityDown", taut + 0.005) / before - share)).toBeLessThan(0.015);
	});

	it("is not tied on where the cord is too short", () => {
		const short = fly({
			craft: on(lengthM),
			point: NOMINAL_POINT,
			gainSet,
			drill: drillOf([tie], { heightM: 1 }),
			options: QUIET,
		});
		expect(short.notes.join()).toMatch(/load not tied on at 0\.50 s: .* 1023 mm above .* the cord's 400 mm/);
	});
});

describe("a limb that comes down on the ground", () => {
	it("is told, with time and speed, and tips a standing craft over", () => {
		const result = flown(drillOf(limb(0.3, 90), { start: "ground" }));
		expect(result.status).toBe("tippedOver");
		expect(result.reason).toMatch(/about the front right and front left feet and the end of 'scoop'/);
		expect(result.notes.join()).toMatch(
			/the end of 'scoop' touched the ground at 0\.\d\d s, arriving at 0\.\d\d m\/s/,
		);
	});

	it("ends the flight where it arrives faster than what the ground lets pass", () => {
		const ground = { ...LEVEL_GROUND, crashMPerSec: 0.3 };
		const result = flown(drillOf(limb(0.3, 90), { start: "ground", ground }));
		expect(result.status).toBe("hitGround");
		expect(result.reason).toMatch(
			/the end of 'scoop' arrived at 0\.\d\d m\/s, faster than the 0\.3 m\/s it bears/,
		);
	});

	it("lands on its feet with the limb out of the way, and stands", () => {
		const descend: DrillEvent = { atSec: 0.1, kind: "throttle", throttle: 0, ofHover: 0.985 };
		const off: DrillEvent = { atSec: 3, kind: "makeSafe" };
		const point = { ...NOMINAL_POINT, limbRad: [180 * DEG, -180 * DEG] };
		const result = flown(drillOf([descend, ...limb(2.9, 179), off], { heightM: 0.3, durationSec: 6 }), point);
		expect(result.status).toBe("completed");
		expect(result.notes.join()).not.toMatch(/touched the ground/);
		expect(Math.abs(at(result, "down", 5.9) - at(result, "down", 5))).toBeLessThan(1e-5);
		expect(thrustN(result, 5.9)).toBeLessThan(0.1);
	});

	it("a craft that cannot begin on its feet says why", () => {
		const point = { ...NOMINAL_POINT, limbRad: [Math.PI / 2, 0] };
		expect(() => flown(drillOf(limb(0.3, 90), { start: "ground" }), point)).toThrow(
			/start 'ground', but the end of 'boom' hangs \d+ mm below its feet, expected above them/,
		);
	});
});

it("a limb that moves on the ground allocates nothing", () => {
	const moves = Array.from({ length: 30 }, (_, i) => limb(moveAtSec(i), i % 2 ? 0 : 13)).flat();
	const drill = drillOf(moves, { durationSec: 30, start: "ground" });
	const flight = createFlight({
		craft,
		point: NOMINAL_POINT,
		gainSet,
		drill,
		options: { recordPeriodUs: 0 },
	});
	// Long enough for the loop to be compiled before it is judged.
	flight.advanceTo(12e6);
	const least = leastAllocatedInMoves(flight, 15);
	expect(flight.ending).toBe(null);
	expect(least).toBeLessThan(3000);
});
