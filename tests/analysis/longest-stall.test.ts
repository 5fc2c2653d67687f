import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { linearise } from "../../src/analysis/linearise.ts";
import { longestStall } from "../../src/analysis/longest-stall.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { loadScenario } from "../../src/scenario/load.ts";

function shipped(name: string) {
	const loaded = loadScenario(readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url), "utf8"));
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario;
}
const OPTIONS = { noise: false, rounding: false, recordPeriodUs: 1000 };

describe("the longest stall", () => {
	it("is survived to the millisecond it says and not one longer, and quicker gains bear less", () => {
		const { craft, gainSets } = shipped("sandpiper");
		const [slow, quick] = gainSets.map((set) => longestStall(craft, NOMINAL_POINT, set, "roll"));
		expect(slow!.survivesMs).toBeGreaterThan(quick!.survivesMs! + 200);
		expect(quick!.beyond).toMatch(/leans 60 deg 0\.\d\d s after the loop stopped/);
		expect(longestStall(craft, NOMINAL_POINT, gainSets[0]!, "yaw").why).toBe(
			"every stall up to 2000 ms is survived",
		);
	});
	it("says why where there is none: gains that do not even fly without a stall", () => {
		const { craft, gainSets } = shipped("wren");
		const wild = { ...gainSets[0]!, roll: { ...gainSets[0]!.roll, kp: 0.001, kAngle: 30, ki: 2, kd: 0 } };
		const found = longestStall(craft, NOMINAL_POINT, wild, "roll");
		expect(found.survivesMs).toBeNull();
		expect(found.why).toMatch(/^not even without a stall: \S/);
	});
});

describe("the tilt after a stall", () => {
	// Commands are held, so the craft is the open loop: x' = A x + B u from where it was. Fourth-order steps of 0.1 ms
	// integrate the linear craft here, apart from the simulator's own equations.
	it.each([
		["sandpiper", 0.15],
		["wren", 0.06],
	] as const)("is what the linear craft grows to in open loop: %s", (name, stallSec) => {
		const { craft, gainSets } = shipped(name);
		const gainSet = gainSets[0]!;
		const fromSec = 0.25;
		const drill: Drill = {
			name: "",
			about: "",
			durationSec: fromSec + stallSec,
			heightM: 20,
			seed: 1,
			events: [
				{ atSec: 0.2, kind: "angle", axis: "roll", angleRad: 0.05 },
				{ atSec: fromSec, kind: "stall", durationSec: stallSec },
			],
			wind: STILL_AIR,
		};
		const point = { ...NOMINAL_POINT };
		const { columns } = fly({ craft, point, gainSet, drill, options: OPTIONS }).trace;
		const found = linearise(craft, point);
		if (!found.feasible) throw new Error(found.reason);
		const { linear } = found;
		// From 5 ms after the loop stopped every pulse under way has arrived: what is applied is held from here on.
		const first = Math.round((fromSec + 0.006) * 1000);
		const last = columns["time"]!.length - 1;
		const rotors = craft.rotors.length;
		const perRad = new Float64Array(rotors).map(
			(_, i) => columns[`rotorSpeed${i}`]![first]! - columns[`rotorSpeed${i}`]![0]!,
		);
		// The part of the motors' change that turns it about roll, and what their held commands will still make of it.
		const roll = (values: ArrayLike<number>): number =>
			craft.rotors.reduce((sum, rotor, i) => sum - Math.sign(rotor.positionM[1]) * values[i]!, 0) / rotors;
		const speedNow = roll(perRad);
		const command = new Float64Array(rotors).map(
			(_, i) => columns[`command${i}`]![first]! - columns[`command${i}`]![0]!,
		);
		const speedAt = (c: number): number => columns["rotorSpeed0"]![0]! * (c / columns["command0"]![0]!);
		const speedHeld = roll(command.map((c) => speedAt(c)));
		const tau = linear.motorLagSec;
		const torquePerSpeed =
			craft.rotors.reduce((sum, rotor) => sum + Math.abs(rotor.positionM[1]), 0) *
			2 *
			craft.propulsion.thrustCoefficient *
			columns["rotorSpeed0"]![0]!;
		const inertia = craft.bare.inertiaKgM2[0];
		let [angle, rate, speed] = [columns["roll"]![first]!, columns["rollRate"]![first]!, speedNow];
		const h = 1e-4;
		for (let t = 0; t < (last - first) * 1e-3 - h / 2; t += h) {
			angle += h * (rate + (h / 2) * ((torquePerSpeed * speed) / inertia));
			rate += (h * torquePerSpeed * (speed + (h / 2 / tau) * (speedHeld - speed))) / inertia;
			speed += (h / tau) * (speedHeld - speed) * (1 - h / (2 * tau));
		}
		const flown = columns["roll"]![last]!;
		const grown = flown - columns["roll"]![first]!;
		expect(grown).toBeGreaterThan(0.005);
		// Damping by inflow, sag and the mean of two lags are left out of the hand calculation: within a fifth of the growth.
		expect(Math.abs(angle - flown)).toBeLessThan(0.2 * grown);
	});
});
