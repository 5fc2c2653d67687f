import { describe, expect, it } from "vitest";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { body, CROOKED_LINKS, limbBody, servo, sumsOf } from "../fixtures/limb.ts";

const DEG = Math.PI / 180;

/** A body and one link that turns about the body's z axis, in one plane. */
const I1 = 0.012;
const I2 = 2e-4;
const [m1, m2, a, b] = [1.2, 0.15, 0.05, 0.08];
const planar: JointTree = {
	frame: body(m1, [0, 0, 0], [0.02, 0.02, I1]),
	bodies: [
		{ parent: -1, hingeM: [a, 0, 0], axis: [0, 0, 1], mass: body(m2, [a + b, 0, 0], [3e-4, 3e-4, I2]) },
	],
};

const elbow: JointTree = {
	frame: body(1.4, [0.01, -0.005, 0.01], [0.016, 0.018, 0.028]),
	bodies: CROOKED_LINKS,
};

/**
 * Body angle after the link has swung to g from 0, total angular momentum 0 (closed form of the planar two-body problem; derived, and recomputed
 * independently to the digits of the two cases below).
 */
function closedForm(g: number): number {
	const mu = (m1 * m2) / (m1 + m2);
	const A = I1 + I2 + mu * (a * a + b * b);
	const B = 2 * mu * a * b;
	const N = I2 + mu * b * b;
	return (
		-g / 2 -
		((2 * N - A) / Math.sqrt(A * A - B * B)) *
			Math.atan2(Math.sqrt(A - B) * Math.sin(g / 2), Math.sqrt(A + B) * Math.cos(g / 2))
	);
}

describe("a limb swings in free fall", () => {
	it.each([
		[90, -8.892377091],
		[180, -13.921446657],
	])("to %d deg: the body turns by the closed form, to 1e-6 deg", (deg, expected) => {
		expect(closedForm(deg * DEG) / DEG).toBeCloseTo(expected, 8);
		const craft = limbBody(planar, [servo()], [0]);
		craft.stepper.aim(craft.own, 0, deg * DEG);
		craft.advance(4);
		expect(craft.own[0]! / DEG).toBeCloseTo(deg, 8);
		const turned = (2 * Math.atan2(craft.x[9]!, craft.x[6]!)) / DEG;
		expect(Math.abs(turned - expected)).toBeLessThan(1e-6);
		craft.stepper.aim(craft.own, 0, 0);
		craft.advance(4);
		expect(Math.abs((2 * Math.atan2(craft.x[9]!, craft.x[6]!)) / DEG)).toBeLessThan(1e-6);
	});

	it("on its way too, at every instant", () => {
		const craft = limbBody(planar, [servo({ rateLimitRadPerSec: 3 })], [0]);
		craft.stepper.aim(craft.own, 0, 2);
		for (let i = 0; i < 20; i++) {
			craft.advance(0.05);
			const turned = 2 * Math.atan2(craft.x[9]!, craft.x[6]!);
			expect(Math.abs(turned - closedForm(craft.own[0]!))).toBeLessThan(1e-8);
		}
	});
});

describe("energy book", () => {
	it("work of two servos is the change of kinetic energy", () => {
		const law = servo({ rateLimitRadPerSec: 1e3 });
		const craft = limbBody(elbow, [law, law], [0, 0.2], [0.3, -0.2, 0.5]);
		craft.stepper.aim(craft.own, 0, 1.2);
		craft.stepper.aim(craft.own, 1, -0.7);
		const h = 2e-4;
		const power: number[] = [];
		// The torques stand at the last stage, the end of the step.
		const stepOn = (): void => {
			craft.advance(h, h);
			power.push(craft.stepper.torques[0]! * craft.own[2]! + craft.stepper.torques[1]! * craft.own[3]!);
		};
		stepOn();
		const started = sumsOf(craft).kinetic;
		for (let i = 0; i < 1000; i++) stepOn();
		// Simpson's rule.
		let work = 0;
		let given = 0;
		for (let i = 0; i + 2 < power.length; i += 2) {
			work += (h / 3) * (power[i]! + 4 * power[i + 1]! + power[i + 2]!);
			given += 2 * h * Math.abs(power[i + 1]!);
		}
		expect(given).toBeGreaterThan(1e-3);
		expect(Math.abs(work - (sumsOf(craft).kinetic - started))).toBeLessThan(1e-7 * given);
	});
});
