import { describe, expect, it } from "vitest";
import type { Mixer } from "../../src/control/mixer.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { SensorModel } from "../../src/flight/sensors.ts";
import { eulerAngles } from "../../src/flight/sensors.ts";
import {
	BACKWARD_THRUST,
	BACKWARD_TORQUE,
	outputOfRotor,
	wiredMixer,
	wiredPlant,
	wiredSensors,
	wrongReadings,
} from "../../src/flight/wiring.ts";
import { fromEuler } from "../../src/math/quaternion.ts";
import type { Vec3 } from "../../src/math/types.ts";
import { derivative } from "../../src/physics/kernel.ts";
import { AIR_SIZE, bodyRates, createKernel, OUTSIDE_SIZE, ROTORS } from "../../src/physics/kernel-layout.ts";
import { plantAt } from "../../src/physics/plant-at.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const DEG = Math.PI / 180;
const craft = sampleCraft({ airframe: { ...sampleCraft().airframe, groundEffect: false } });
const drill = (change: Partial<Drill> = {}): Drill => ({
	name: "",
	about: "",
	durationSec: 0.5,
	heightM: 50,
	seed: 3,
	events: [],
	wind: STILL_AIR,
	...change,
});
const setup = { craft, point: NOMINAL_POINT, gainSet: sampleGains() };
const quiet = { options: { noise: false, rounding: false, recordPeriodUs: 1000 } };

/** Forces and torques at equal rotor speed, level, at rest. */
function atRest(propellers: { rotor: number; fault: "upsideDown" | "wrongHand" }[]) {
	const plant = wiredPlant({ wiring: { propellers } }, plantAt(craft, NOMINAL_POINT));
	const kernel = createKernel(plant);
	const w = 300;
	const x = new Float64Array(ROTORS + 4);
	x[2] = -1000;
	x[6] = 1;
	x.fill(w, ROTORS);
	const dx = new Float64Array(x.length);
	derivative(kernel, x, new Float64Array(4), new Float64Array(AIR_SIZE), new Float64Array(OUTSIDE_SIZE), dx);
	const rates = new Float64Array(3);
	bodyRates(kernel, x, rates);
	return { lift: 1.9 * (9.80665 - dx[5]!), torque: dx.slice(10, 13), rates };
}

describe("a propeller", () => {
	const thrust = 1.891e-5 * 300 ** 2;
	const drag = 3.36e-7 * 300 ** 2;
	const arm = 0.26 / Math.SQRT2;

	it("of the wrong hand pushes its corner down, its drag and its spin keep their sense", () => {
		const right = atRest([]);
		const wrong = atRest([{ rotor: 0, fault: "wrongHand" }]);
		expect(right.lift).toBeCloseTo(4 * thrust, 9);
		expect(wrong.lift).toBeCloseTo((3 - BACKWARD_THRUST) * thrust, 9);
		// Front right lost 1 + 0.6 thrusts: rolls right, pitches nose down.
		expect(wrong.torque[0]).toBeCloseTo((1 + BACKWARD_THRUST) * thrust * arm, 9);
		expect(wrong.torque[1]).toBeCloseTo(-(1 + BACKWARD_THRUST) * thrust * arm, 9);
		// It turns counter-clockwise, so its drag turns the craft clockwise, now by more.
		expect(right.torque[2]).toBeCloseTo(0, 12);
		expect(wrong.torque[2]).toBeCloseTo((BACKWARD_TORQUE - 1) * drag, 9);
		expect([...wrong.rates]).toEqual([...right.rates]);
	});

	it("upside down still pushes up, weakly", () => {
		const wrong = atRest([{ rotor: 2, fault: "upsideDown" }]);
		expect(wrong.lift).toBeCloseTo((3 + BACKWARD_THRUST) * thrust, 9);
		// Rear left is weak: rolls left, pitches nose up.
		expect(wrong.torque[0]).toBeCloseTo(-(1 - BACKWARD_THRUST) * thrust * arm, 9);
		expect(wrong.torque[1]).toBeCloseTo((1 - BACKWARD_THRUST) * thrust * arm, 9);
	});

	it("on a rotor that is not there is an error", () => {
		expect(() => atRest([{ rotor: 4, fault: "wrongHand" }])).toThrow(
			"propellers has rotor 4, expected 0 to 3",
		);
	});
});

describe("readings", () => {
	const angles = (craftDeg: Vec3, wiring: Parameters<typeof wrongReadings>[0]["wiring"]): number[] => {
		const x = new Float64Array(10);
		x.set(fromEuler([craftDeg[0] * DEG, craftDeg[1] * DEG, craftDeg[2] * DEG]), 6);
		const out = new Float64Array(3);
		eulerAngles(x, out, 0);
		wrongReadings({ wiring: wiring! })!.angles(x, out, 0);
		return [...out.slice(0, 2)].map((v) => v / DEG);
	};
	// Craft's axes to board's: the board's forward is the craft's right.
	const turnedRight = [0, 1, 0, -1, 0, 0, 0, 0, 1] as const;

	it.each([
		["right side down is its nose down", [20, 0, 0], [0, -20]],
		["nose up is its right side down", [0, 10, 70], [10, 0]],
		["level is level", [0, 0, -130], [0, 0]],
	] as const)("of a board turned clockwise: %s", (_, craftDeg, [roll, pitch]) => {
		const read = angles(craftDeg, { board: turnedRight });
		expect(read[0]).toBeCloseTo(roll, 9);
		expect(read[1]).toBeCloseTo(pitch, 9);
	});

	it("of a board turned half round have both signs wrong", () => {
		const read = angles([12, 0, 5], { board: [-1, 0, 0, 0, -1, 0, 0, 0, 1] });
		expect(read[0]).toBeCloseTo(-12, 9);
		expect(read[1]).toBeCloseTo(0, 9);
	});

	it("in degrees are 57.3 times too large, whatever is in them", () => {
		expect(angles([2, -1, 0], { angleFactor: 1 / DEG })[0]).toBeCloseTo(2 / DEG, 9);
	});

	it("of the gyro go through the board, then through what is wrong with the gyro", () => {
		const rates = Float64Array.of(0, 1, 2, 3);
		wrongReadings({ wiring: { board: turnedRight, gyro: [0, 1, 0, 1, 0, 0, 0, 0, -1] } })!.rates(rates, 1);
		expect([...rates]).toEqual([0, -1, 2, -3]);
	});

	it("keep level offset and noise", () => {
		const inner: SensorModel = {
			gyro: (_x, out, at) => out.set([1, 2, 3], at),
			angles: (x, out, at) => {
				eulerAngles(x, out, at);
				out[at]! += 0.01;
				out[at + 1]! -= 0.02;
			},
		};
		const x = new Float64Array(10);
		x.set(fromEuler([0.3, 0, 0]), 6);
		const out = new Float64Array(3);
		wiredSensors(inner, wrongReadings({ wiring: { board: turnedRight } })).angles(x, out, 0);
		expect(out[0]).toBeCloseTo(0.01, 12);
		expect(out[1]).toBeCloseTo(-0.3 - 0.02, 12);
	});

	it("stay as they are where nothing is wrong with them", () => {
		expect(wrongReadings({ wiring: { drives: [1, 0, 2, 3] } })).toBeNull();
	});
});

describe("outputs and mixer", () => {
	it("names the output of each rotor", () => {
		expect([...outputOfRotor({ wiring: { drives: [2, 0, 1] } }, 3)]).toEqual([1, 2, 0]);
		expect(() => outputOfRotor({ wiring: { drives: [0, 0, 1] } }, 3)).toThrow(
			"drives 0, 0, 1, expected each of 0 to 2 once",
		);
	});

	it("gives yaw the other sign and says what was delivered of what was asked", () => {
		const seen: number[] = [];
		const inner = {
			rotorCount: 1,
			table: Float64Array.of(1, 2, 3),
			demandFor: () => 0,
			slope: () => 1,
			mix(_input, _at, out, uAt, deliveredAt) {
				seen.push(out[uAt + 2]!);
				out[deliveredAt + 2] = 0.5 * out[uAt + 2]!;
				return true;
			},
		} satisfies Mixer;
		const mixer = wiredMixer({ wiring: { yawReversed: true } }, inner);
		expect([...mixer.table]).toEqual([1, 2, -3]);
		const out = Float64Array.of(0, 0, 0.4, 0, 0, 0);
		expect(mixer.mix(new Float64Array(2), 0, out, 0, 3, 6)).toBe(true);
		expect(seen).toEqual([-0.4]);
		expect([out[2], out[5]]).toEqual([0.4, 0.2]);
		expect(wiredMixer({}, inner)).toBe(inner);
	});

	it("swapped motors get each other's commands", () => {
		const asked = drill({
			durationSec: 0.02,
			events: [{ atSec: 0, kind: "angle", axis: "roll", angleRad: 0.1 }],
		});
		const right = fly({ ...setup, drill: asked, ...quiet }).trace.columns;
		const wrong = fly({ ...setup, drill: asked, ...quiet, wiring: { drives: [3, 1, 2, 0] } }).trace.columns;
		// The first tick's pulses have ended, the second's have not.
		const row = 3;
		expect(right["command0"]![row]).not.toBeCloseTo(right["command3"]![row]!, 3);
		expect(wrong["command0"]![row]).toBeCloseTo(right["command3"]![row]!, 6);
		expect(wrong["command3"]![row]).toBeCloseTo(right["command0"]![row]!, 6);
		expect(wrong["command1"]![row]).toBeCloseTo(right["command1"]![row]!, 6);
	});
});

describe("a whole flight", () => {
	it("wired as believed is the flight without wiring, bit for bit", () => {
		const asked = drill({ events: [{ atSec: 0.1, kind: "stick", axis: "pitch", readingUs: 1700 }] });
		const plain = fly({ ...setup, drill: asked });
		const wired = fly({ ...setup, drill: asked, wiring: {} });
		const identity = fly({ ...setup, drill: asked, wiring: { drives: [0, 1, 2, 3], stickSigns: [1, 1, 1] } });
		expect(wired.trace).toEqual(plain.trace);
		expect(identity.trace).toEqual(plain.trace);
	});

	it.each(["stick", "angle"] as const)("a reversed %s asks for the other side", (kind) => {
		const event =
			kind === "stick"
				? ({ atSec: 0, kind, axis: "roll", readingUs: 1600 } as const)
				: ({ atSec: 0, kind, axis: "roll", angleRad: 0.1 } as const);
		const asked = drill({ durationSec: 1, events: [event] });
		const right = fly({ ...setup, drill: asked, ...quiet }).trace.columns["roll"]!;
		const wrong = fly({ ...setup, drill: asked, ...quiet, wiring: { stickSigns: [-1, 1, 1] } }).trace.columns[
			"roll"
		]!;
		expect(right.at(-1)!).toBeGreaterThan(0.05);
		expect(wrong.at(-1)!).toBeCloseTo(-right.at(-1)!, 6);
	});

	it("keeps a wrong propeller through a load taken up", () => {
		const taken = drill({
			durationSec: 0.05,
			events: [{ atSec: 0.01, kind: "takeUp", massKg: 0.3, positionM: [0, 0, 0.08] }],
		});
		const wiring = { propellers: [{ rotor: 0, fault: "wrongHand" as const }] };
		const bare = fly({ ...setup, drill: { ...taken, events: [] }, ...quiet, wiring }).trace.columns;
		const loaded = fly({ ...setup, drill: taken, ...quiet, wiring }).trace.columns;
		const right = fly({ ...setup, drill: taken, ...quiet }).trace.columns;
		expect(right["rollRate"]!.at(-1)!).toBeCloseTo(0, 3);
		expect(loaded["rollRate"]!.at(-1)!).toBeGreaterThan(0.8 * bare["rollRate"]!.at(-1)!);
		expect(bare["rollRate"]!.at(-1)!).toBeGreaterThan(1);
	});
});
