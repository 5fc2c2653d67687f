import { expect, test } from "vitest";
import { linearise, mixerOf } from "../../src/analysis/linearise.ts";
import { rotorPatterns } from "../../src/analysis/rotor-patterns.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { diagonal } from "../../src/math/mat3.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const LENGTH = 0.4;
const tethered = (forwardM: number): Craft => ({
	...sampleCraft(),
	load: {
		massKg: 0.3,
		positionM: [forwardM, 0, 0.1],
		inertiaKgM2: diagonal(0, 0, 0),
		tether: { lengthM: LENGTH, dampingRatio: 0 },
	},
});

/** rad/s^2 of each joint per unit of yaw's u, and the reaction torque about yaw of the rotors that it speeds up. */
function underYaw(craft: Craft) {
	const found = linearise(craft, { ...NOMINAL_POINT, load: "heaviest" });
	if (!found.feasible) throw new Error(found.reason);
	const { linear } = found;
	const { names, bCommand, plant, trim, motorLagSec } = linear;
	const of = (name: string): number => bCommand[3 * names.indexOf(name) + 2]!;
	const pattern = rotorPatterns(plant, mixerOf(craft), trim)[2]!;
	const torque = plant.rotors.reduce(
		(sum, { spin, inertiaKgM2 }, i) => sum + (spin * inertiaKgM2 * pattern[i]!) / motorLagSec,
		0,
	);
	return { roll: of("rollJointRate1"), pitch: of("pitchJointRate0"), torque: Math.abs(torque) };
}

test("rotors that speed up turn a load's hinge away from under its cord: reaction over the airframe's own inertia, times lever over length", () => {
	// A point on a cord feels nothing sideways at first; the airframe turns about its own middle.
	const craft = tethered(0.15);
	const { roll, pitch, torque } = underYaw(craft);
	const { inertiaKgM2, centreOfMassM } = craft.bare;
	const expected = ((torque / inertiaKgM2[8]) * (0.15 - centreOfMassM[0])) / LENGTH;
	expect(expected).toBeGreaterThan(1);
	expect(Math.abs(roll) / expected).toBeCloseTo(1, 6);
	expect(pitch).toBe(0);
});

test("a hinge ahead and one behind are jerked to opposite sides, one below the middle not at all", () => {
	const [ahead, behind] = [underYaw(tethered(0.15)).roll, underYaw(tethered(-0.15)).roll];
	expect(ahead * behind).toBeLessThan(0);
	const { centreOfMassM } = tethered(0).bare;
	expect(Math.abs(underYaw(tethered(centreOfMassM[0])).roll)).toBeLessThan(1e-6 * Math.abs(ahead));
});
