import { describe, expect, it } from "vitest";
import { linearise, OUTPUT } from "../../src/analysis/linearise.ts";
import type { Craft } from "../../src/craft/model.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { diagonal } from "../../src/math/mat3.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const LOADED = { ...NOMINAL_POINT, load: "heaviest" as const };
const tethered = (positionM: readonly [number, number, number], lengthM: number): Craft => ({
	...sampleCraft(),
	load: {
		massKg: 0.3,
		positionM,
		inertiaKgM2: diagonal(0, 0, 0),
		tether: { lengthM, dampingRatio: 0 },
	},
});

function linearOf(craft: Craft) {
	const found = linearise(craft, LOADED);
	if (!found.feasible) throw new Error(found.reason);
	const { linear } = found;
	const at = (row: string, column: string): number =>
		linear.a[linear.names.indexOf(row) * linear.order + linear.names.indexOf(column)]!;
	return { linear, at };
}

/** Turning acceleration of the airframe about the joint's own axis per radian of the joint. */
function turningBy(craft: Craft, joint: string): number {
	const { linear } = linearOf(craft);
	const row = OUTPUT.rate + (joint.startsWith("roll") ? 0 : 1);
	const column = linear.names.indexOf(joint);
	let sum = 0;
	for (let i = 0; i < linear.order; i++)
		sum += linear.c[row * linear.order + i]! * linear.a[i * linear.order + column]!;
	return sum;
}

describe("a load on a tether in the linear model", () => {
	it("swings by itself at sqrt(g/L (1 + m/M)) under a craft that hovers, held at its centre", () => {
		// Two bodies under the thrust of hover (M + m) g: the tether's tension over the load's mass is g, and both ends move: 1/L (g + g m/M).
		const craft = tethered([0, 0, 0], 0.5);
		const { at } = linearOf(craft);
		const expected = (9.80665 / 0.5) * (1 + 0.3 / craft.bare.massKg);
		expect(at("rollJointRate1", "rollJoint1")).toBeCloseTo(-expected, 6);
		expect(at("pitchJointRate0", "pitchJoint0")).toBeCloseTo(-expected, 6);
		// Held at the centre of mass it does not turn the craft.
		expect(Math.abs(turningBy(craft, "pitchJoint0"))).toBeLessThan(1e-6);
		expect(Math.abs(turningBy(craft, "rollJoint1"))).toBeLessThan(1e-6);
	});

	it("turns the craft it hangs below by tension times lever over the craft's own inertia", () => {
		const craft = tethered([0, 0, 0.1], 0.5);
		const expected = (0.1 * 0.3 * 9.80665) / craft.bare.inertiaKgM2[4];
		expect(Math.abs(turningBy(craft, "pitchJoint0"))).toBeCloseTo(expected, 6);
	});

	it("is not there without a load", () => {
		const found = linearise(tethered([0, 0, 0.1], 0.5), NOMINAL_POINT);
		expect(found.feasible && found.linear.names.some((name) => name.includes("Joint"))).toBe(false);
	});
});
