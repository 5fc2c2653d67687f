import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT, type Timing } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import type { FlightOptions } from "../../src/flight/setup.ts";
import type { Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import { leastAllocatedBytes } from "../fixtures/allocated-bytes.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const drillOf = (events: DrillEvent[] = [], change: Partial<Drill> = {}): Drill => ({
	name: "test",
	about: "",
	durationSec: 1,
	heightM: 10,
	seed: 7,
	events,
	wind: STILL_AIR,
	...change,
});
const QUIET: FlightOptions = { noise: false, rounding: false };
const timed = (change: Partial<Timing>): Craft =>
	sampleCraft({ timing: { ...sampleCraft().timing, ...change } });
const flown = (craft: Craft, drill: Drill, options: FlightOptions = QUIET, gains = sampleGains()) =>
	fly({ craft, point: NOMINAL_POINT, gainSet: gains, drill, options });
/** First time at which a column leaves its first value, s. */
const firstChange = (result: ReturnType<typeof fly>, name: string): number => {
	const column = result.trace.columns[name]!;
	const at = column.findIndex((v) => v !== column[0]);
	return at < 0 ? Number.NaN : result.trace.columns["time"]![at]!;
};

describe("the order of events", () => {
	const step: DrillEvent = { atSec: 0.1, kind: "angle", axis: "roll", angleRad: 0.1 };
	const record = { ...QUIET, recordPeriodUs: 1 };
	const short = drillOf([step], { durationSec: 0.112 });
	const base = sampleCraft().timing;
	const digital = { kind: "digital", transportUs: 0, steps: 0 } as const;
	it("lets a set-point at t act at t through a chain without delay", () => {
		const result = flown(timed({ pulse: digital }), short, record);
		expect(firstChange(result, "command0")).toBeCloseTo(0.1, 9);
	});
	it("adds compute delay up to the next frame, then the pulse: known only at its end", () => {
		const result = flown(timed({ computeUs: 300 }), short, record);
		// Published at 100.3 ms, latched at 102 ms; rolling right asks the right-hand rotor for less.
		const command = result.trace.columns["command0"]!;
		const last = command[command.length - 1]!;
		expect(last).toBeLessThan(command[0]!);
		const first = command.find((v) => v !== command[0])!;
		expect(firstChange(result, "command0")).toBeCloseTo(0.102 + 1e-6 * Math.round(1000 + 1000 * first), 9);
	});
	it("serves a frame that comes later than the tick at the frame's own phase", () => {
		const result = flown(
			timed({ pulse: digital, escFrame: { periodUs: 2000, phaseUs: 700 } }),
			short,
			record,
		);
		expect(firstChange(result, "command0")).toBeCloseTo(0.1007, 9);
	});
	it("lets a value that arrives at t serve the tick at t, and a later one the next", () => {
		// A torque at 99 ms shows in the gyro sample at 100 ms.
		const push: DrillEvent = { atSec: 0.099, kind: "torque", torqueNm: [0.05, 0, 0], durationSec: 1 };
		const drill = drillOf([push], { durationSec: 0.112 });
		const reading = (gyroBusUs: number) =>
			firstChange(flown(timed({ pulse: digital, gyroBusUs }), drill, record), "command0");
		expect(reading(0)).toBeCloseTo(0.1, 9);
		expect(reading(500)).toBeCloseTo(0.102, 9);
		expect(reading(2000)).toBeCloseTo(0.102, 9);
		expect(reading(2001)).toBeCloseTo(0.104, 9);
	});
	it("holds a fused attitude by its own clock and latency", () => {
		const attitude = { kind: "fused", clock: { periodUs: 10000, phaseUs: 3000 }, latencyUs: 4000 } as const;
		const flight = createFlight({
			craft: timed({ attitude }),
			point: NOMINAL_POINT,
			gainSet: sampleGains(),
			drill: drillOf([{ atSec: 0.01, kind: "torque", torqueNm: [0.2, 0, 0], durationSec: 1 }]),
			options: { ...QUIET, recordPeriodUs: 0 },
		});
		const held = (): number => {
			const entry = flight.live().find((e) => e.name === "roll held")!;
			return flight.state[entry.index]!;
		};
		flight.advanceTo(16999);
		expect(held()).toBe(0);
		flight.advanceTo(17000);
		expect(held()).not.toBe(0);
		const first = held();
		flight.advanceTo(26999);
		expect(held()).toBe(first);
		flight.advanceTo(27000);
		expect(held()).not.toBe(first);
	});
	it("reads sticks at receiver frames", () => {
		const craft = timed({ pulse: digital, receiver: { periodUs: 20000, phaseUs: 5000 } });
		const drill = drillOf([{ atSec: 0.0301, kind: "stick", axis: "roll", readingUs: 1750 }]);
		const result = flown(craft, drill, record);
		expect(firstChange(result, "rollSetPoint")).toBeCloseTo(0.045, 9);
		expect(result.trace.columns["rollSetPoint"]!.at(-1)).toBeCloseTo(0.305, 12);
	});
	it("keeps the last commands through a stall of the loop", () => {
		const stall: DrillEvent = { atSec: 0.2, kind: "stall", durationSec: 0.1 };
		const push: DrillEvent = { atSec: 0.21, kind: "torque", torqueNm: [0.1, 0, 0], durationSec: 0.5 };
		const result = flown(timed({ pulse: digital }), drillOf([stall, push]), {
			...QUIET,
			recordPeriodUs: 1000,
		});
		expect(firstChange(result, "command0")).toBeCloseTo(0.3, 9);
		expect(result.counters.ticks).toBe(501 - 50);
	});
	it("rounds commands to the pulse's resolution", () => {
		const pulse = { ...base.pulse, resolutionUs: 8 } as Timing["pulse"];
		const result = flown(timed({ pulse }), drillOf([step]), { noise: false, rounding: true });
		const command = result.trace.columns["command0"]!;
		for (let i = 10; i < command.length; i++) {
			const eighths = (1000 + 1000 * command[i]!) / 8;
			expect(Math.abs(eighths - Math.round(eighths))).toBeLessThan(1e-9);
		}
	});
});

describe("a flight's state", () => {
	it("stays at the trim without a cause, in wind and off balance", () => {
		const craft = sampleCraft({
			bare: { ...sampleCraft().bare, centreOfMassM: [0.01, -0.005, 0.01] },
		});
		const wind = { ...STILL_AIR, meanMPerSec: [4, -3, 0] as const };
		const result = flown(craft, drillOf([], { durationSec: 2, wind }));
		for (const name of ["roll", "pitch", "yaw", "north", "east", "down"]) {
			const column = result.trace.columns[name]!;
			expect(Math.abs(column.at(-1)! - column[0]!)).toBeLessThan(1e-9);
		}
	});
	it("comes back from a snapshot to the same numbers", () => {
		const craft = timed({ gyroBusUs: 700, computeUs: 400, escFrame: { periodUs: 2040, phaseUs: 0 } });
		const drill = drillOf([{ atSec: 0.01, kind: "torque", torqueNm: [0.1, 0.05, 0.01], durationSec: 0.02 }]);
		const flight = createFlight({
			craft,
			point: NOMINAL_POINT,
			gainSet: sampleGains(),
			drill,
			options: { ...QUIET, recordPeriodUs: 0 },
		});
		flight.advanceJustBefore(102000);
		const here = flight.snapshot();
		flight.advanceJustBefore(204000);
		const there = flight.snapshot();
		flight.restore(here);
		flight.advanceJustBefore(204000);
		expect(Array.from(flight.snapshot())).toEqual(Array.from(there));
		expect(flight.nowUs).toBe(204000);
	});
	it("names the same live entries after a hyperperiod", () => {
		const craft = timed({ gyroBusUs: 700, computeUs: 400, escFrame: { periodUs: 2500, phaseUs: 300 } });
		const flight = createFlight({
			craft,
			point: NOMINAL_POINT,
			gainSet: sampleGains(),
			drill: drillOf(),
			options: { ...QUIET, recordPeriodUs: 0 },
		});
		flight.advanceJustBefore(28200);
		const names = flight.live().map((e) => e.name);
		flight.advanceJustBefore(38200);
		expect(flight.live().map((e) => e.name)).toEqual(names);
		expect(names).toContain("command 0 under way 0");
		expect(names).toContain("command 0 to publish under way 0");
	});
	it("allocates nothing: a minute of noise, wind and turbulence leaves the heap as it was", () => {
		const flight = createFlight({
			craft: sampleCraft(),
			point: NOMINAL_POINT,
			gainSet: sampleGains(),
			drill: drillOf([], {
				durationSec: 60,
				heightM: 30,
				wind: {
					meanMPerSec: [3, 0, 0],
					roughnessM: 0.03,
					gusts: [{ atSec: 1, velocityMPerSec: [2, 1, 0], riseSec: 1, ending: "returns" }],
					turbulence: { windAt20FtMPerSec: 5 },
				},
			}),
			options: { recordPeriodUs: 10000 },
		});
		// 4 s are 2,000 ticks and some 6,000 steps: one boxed number (16 bytes) a tick is 32 kB.
		const least = leastAllocatedBytes(15, (i) => flight.advanceTo(4e6 * (i + 1)));
		expect(flight.ending).toBe(null);
		expect(least).toBeLessThan(8000);
	});
	it("notices what one small vector a tick would allocate", () => {
		// Kept, or the compiler makes none.
		const sums: Vec3[] = Array.from({ length: 2000 }, () => [0, 0, 0]);
		const bytes = leastAllocatedBytes(6, () => {
			for (let i = 1; i < 2000; i++) sums[i] = vec3.add(sums[i - 1]!, [0.5, 0.25, 0]);
		});
		expect(sums[1999]).toEqual([999.5, 499.75, 0]);
		expect(bytes).toBeGreaterThan(32_000);
	});
});

describe("endings", () => {
	it("hits the ground with the throttle cut", () => {
		const result = flown(
			sampleCraft(),
			drillOf([{ atSec: 0.1, kind: "throttle", throttle: 0 }], { durationSec: 5, heightM: 3 }),
		);
		expect(result.status).toBe("hitGround");
		expect(result.reason).toMatch(
			/foot arrived at \d+\.\d\d m\/s, faster than the 2 m\/s it bears, at \d\.\d+ s/,
		);
		expect(result.trace.columns["time"]!.at(-1)).toBeLessThanOrEqual(result.timeSec);
		expect(result.outsideModel.join()).toMatch(/wake/);
	});
	it("flips under a torque that no rotor can hold", () => {
		const result = flown(
			sampleCraft(),
			drillOf([{ atSec: 0.1, kind: "torque", torqueNm: [6, 0, 0], durationSec: 1 }]),
		);
		expect(result.status).toBe("flipped");
	});
	it("browns out when a tired battery meets full throttle", () => {
		const craft = sampleCraft({ battery: { ...sampleCraft().battery, brownOutV: 14.5 } });
		const result = flown(craft, drillOf([{ atSec: 0.1, kind: "throttle", throttle: 1 }]));
		expect(result.status).toBe("brownOut");
		expect(result.reason).toMatch(/the electronics need 14.50 V/);
	});
	it("ends with wrong signs, and nothing in its trace is not a number", () => {
		const gains = sampleGains();
		const wrong = { ...gains.roll, kp: -0.5 };
		const result = flown(
			sampleCraft(),
			drillOf([{ atSec: 0.1, kind: "angle", axis: "roll", angleRad: 0.1 }], { durationSec: 4 }),
			QUIET,
			{
				...gains,
				roll: wrong,
			},
		);
		expect(result.status).not.toBe("completed");
		for (const column of Object.values(result.trace.columns))
			expect(column.every(Number.isFinite)).toBe(true);
	});
	it("completes otherwise, with the drill's last instant recorded", () => {
		const result = flown(sampleCraft(), drillOf());
		expect(result).toMatchObject({ status: "completed", reason: "", timeSec: 1, seed: 7 });
		expect(result.trace.columns["time"]!.at(-1)).toBeCloseTo(1, 12);
	});
	it("starts a craft that cannot hover at full command, and says so", () => {
		const craft = sampleCraft({ bare: { ...sampleCraft().bare, massKg: 6 } });
		const result = flown(craft, drillOf([], { durationSec: 5 }));
		expect(result.status).toBe("hitGround");
		expect(result.outsideModel[0]).toMatch(/no trim to start from.*full throttle lifts/);
	});
	it("throws for a clock that is not whole microseconds", () => {
		expect(() => flown(timed({ gyro: { periodUs: 0.5, phaseUs: 0 } }), drillOf())).toThrow(
			/gyro.periodUs 0.5, expected a whole/,
		);
	});
});

describe("the kept start", () => {
	it("is of the drill's own height and wind, for one craft and point", () => {
		const craft = sampleCraft();
		const startOf = (heightM: number, north: number) => {
			const wind = { ...STILL_AIR, meanMPerSec: [north, 0, 0] as const };
			const { columns } = flown(craft, drillOf([], { heightM, wind, durationSec: 0.01 })).trace;
			return { down: columns["down"]![0]!, pitch: columns["pitch"]![0]! };
		};
		const first = startOf(10, 0);
		const higher = startOf(12, 0);
		const windy = startOf(10, 5);
		expect(first.down - higher.down).toBeCloseTo(2, 9);
		expect(first.pitch).toBeCloseTo(0, 9);
		expect(windy.pitch).toBeGreaterThan(0.01);
		expect(startOf(10, 0)).toEqual(first);
	});
});

describe("seeds", () => {
	it("the same seed gives the same flight, another one another", () => {
		const noisy = (seed: number) =>
			flown(sampleCraft(), drillOf([], { durationSec: 0.5 }), { seed }).trace.columns["roll"]!.at(-1);
		expect(noisy(3)).toBe(noisy(3));
		expect(noisy(3)).not.toBe(noisy(4));
	});
});

describe("sensors", () => {
	it("a level offset leans the craft the other way", () => {
		const craft = sampleCraft({ sensors: { ...sampleCraft().sensors, levelOffsetRad: [0.03, 0] } });
		const result = flown(craft, drillOf([], { durationSec: 4 }));
		// Drifting sideways costs a little of it in drag.
		expect(result.trace.columns["roll"]!.at(-1)).toBeCloseTo(-0.03, 2);
	});
	it("an accelerometer that feeds through makes the estimate creep towards level", () => {
		const craft = sampleCraft({
			sensors: { ...sampleCraft().sensors, estimatorTimeConstantSec: 2 },
			airframe: { ...sampleCraft().airframe, dragAreaM2: [0, 0, 0] },
			propulsion: { ...sampleCraft().propulsion, inPlaneDragCoefficient: 0 },
		});
		const drill = drillOf([{ atSec: 0.1, kind: "angle", axis: "roll", angleRad: 0.1 }], {
			durationSec: 2.1,
			heightM: 100,
		});
		const result = flown(craft, drill);
		// Without side forces the specific force stays along the body's z axis, which reads as level: the error falls by
		// reading/2 s. To follow the growing true angle at rate r the loop (k_angle 4) needs a reading of 0.1 - r/4 rad, so
		// r = (0.1 - r/4)/2.
		const roll = result.trace.columns["roll"]!;
		expect((roll.at(-1)! - roll.at(-301)!) / 0.6).toBeCloseTo(0.05 / 1.125, 3);
	});
	it("white gyro noise has the variance of its density behind the low-pass: N^2 (pi/2) f_c", () => {
		const craft = sampleCraft({
			sensors: {
				...sampleCraft().sensors,
				vibrationRadPerSec: 0,
				gyroResolutionRadPerSec: 0,
				attitudeNoiseRad: 0,
			},
		});
		const zero = { ...sampleGains().roll, kAngle: 0, kp: 0, ki: 0, kd: 0 };
		const gains = { ...sampleGains(), roll: zero, pitch: zero, yaw: zero };
		const result = flown(craft, drillOf([], { durationSec: 20 }), {}, gains);
		const measured = result.trace.columns["rollRateMeasured"]!;
		const truth = result.trace.columns["rollRate"]!;
		let sum = 0;
		for (let i = 1; i < measured.length; i++) sum += (measured[i]! - truth[i]!) ** 2;
		// 10,000 samples, correlated over about one: 3 standard deviations are 6 %.
		expect(sum / (measured.length - 1) / ((1e-8 * Math.PI * 98) / 2)).toBeCloseTo(1, 1);
	});
});
