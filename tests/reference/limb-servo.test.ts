import { describe, expect, it } from "vitest";
import { createCubicSpline, SPLINE } from "../../src/math/cubic-spline.ts";
import type { JointDrive, SoftDrive } from "../../src/physics/joint-drives.ts";
import type { JointTree } from "../../src/physics/joint-tree.ts";
import { wholeAt } from "../../src/physics/joint-tree.ts";
import { body, limbBody, servo, sumsOf } from "../fixtures/limb.ts";
import { bareBody } from "../fixtures/plant.ts";

const GRAVITY = 9.80665;
/** A link of 0.2 kg whose middle is 0.1 m ahead of its hinge, on a frame of `frameKg`. */
const oneLink = (frameKg: number, inertia: number): JointTree => ({
	frame: body(frameKg, [0, 0, 0], [inertia, inertia, inertia]),
	bodies: [
		{ parent: -1, hingeM: [0.05, 0, 0], axis: [0, 1, 0], mass: body(0.2, [0.15, 0, 0], [1e-5, 2e-4, 2e-4]) },
	],
});
const light = oneLink(1.4, 0.02);

/** The link on a frame too heavy to move, held up by its rotors: as on a bench. */
function onBench(drive: JointDrive) {
	const tree = oneLink(1e7, 1e7);
	const plant = bareBody([1, 1, 1]);
	const at = limbBody(tree, [drive], [0], [0, 0, 0], {
		gravityMPerSec2: GRAVITY,
		rotors: plant.rotors.map((r) => ({
			...r,
			axis: [0, 0, -1],
			thrustCoefficient: (wholeAt(tree, [0]).massKg * GRAVITY) / 4e4,
			tauUpSec: 1e9,
			tauDownSec: 1e9,
		})),
	});
	for (let i = 0; i < 4; i++) {
		at.x[18 + i] = 100;
		at.u[i] = 100 / plant.openCircuitV;
	}
	return at;
}
const soft = (change: Partial<SoftDrive> = {}): SoftDrive => ({
	...servo(),
	kind: "soft",
	stiffnessNmPerRad: 5,
	dampingNmSecPerRad: 0.05,
	backlashRad: 0,
	...change,
});

describe("a servo within its limits", () => {
	it("answers a step as wn^2/(s^2 + 2 zeta wn s + wn^2): overshoot, its time, last crossing of 2 %", () => {
		// Zeta 0.6, wn 5: Mp 9.47802248 %, tp 0.785398163 s, ts 1.18859758 s (closed form; Ogata, Modern Control Engineering, from memory, for the first two).
		const law = servo({ naturalRadPerSec: 5, dampingRatio: 0.6, rateLimitRadPerSec: 1e3 });
		const craft = limbBody(light, [law], [0]);
		craft.stepper.aim(craft.own, 0, 0.5);
		let [most, at, last] = [0, 0, 0];
		for (let i = 1; i <= 3000; i++) {
			craft.advance(1e-3, 1e-3);
			const now = craft.own[0]! / 0.5;
			if (now > most) [most, at] = [now, i * 1e-3];
			if (Math.abs(now - 1) > 0.02) last = i * 1e-3;
		}
		expect(100 * (most - 1)).toBeCloseTo(9.47802248, 4);
		expect(at).toBeCloseTo(0.785398163, 2);
		expect(Math.abs(last - 1.18859758)).toBeLessThan(1.01e-3);
	});

	it("is never faster than its rate limit, nor than it is asked to be", () => {
		for (const [pace, limit] of [
			[0, 2],
			[0.7, 0.7],
			[9, 2],
		] as const) {
			const craft = limbBody(light, [servo({ rateLimitRadPerSec: 2 })], [0], [1, 2, -1]);
			craft.stepper.aim(craft.own, 0, 1.4, pace);
			let fastest = 0;
			for (let i = 0; i < 1500; i++) {
				craft.advance(1e-3, 1e-3);
				fastest = Math.max(fastest, Math.abs(craft.own[1]!));
			}
			expect(fastest).toBeLessThanOrEqual(limit);
			expect(fastest).toBeGreaterThan(0.99 * limit);
		}
	});

	it("hunts by the amplitude that was measured", () => {
		const craft = limbBody(light, [servo({ jitterRad: 0.01, jitterHz: 10 })], [0]);
		craft.advance(2);
		let most = 0;
		for (let i = 0; i < 400; i++) {
			craft.advance(1e-3, 1e-3);
			most = Math.max(most, Math.abs(craft.own[0]!));
		}
		expect(most).toBeGreaterThan(0.01 * 0.999);
		expect(most).toBeLessThan(0.01 * 1.001);
	});
});

describe("a servo at its torque limit", () => {
	it.each([
		["stiff", servo({ rateLimitRadPerSec: 20 }), servo({ rateLimitRadPerSec: 20, torqueLimitNm: 0.25 })],
		[
			"behind a spring",
			soft({ rateLimitRadPerSec: 20 }),
			soft({ rateLimitRadPerSec: 20, torqueLimitNm: 0.25 }),
		],
	])("%s: gives no more, and arrives later", (_, strong, weak) => {
		const arrival = (drive: JointDrive): number => {
			// Against the link's weight, 0.196 N m, upwards.
			const craft = onBench(drive);
			craft.stepper.aim(craft.own, 0, 1);
			let found = Number.NaN;
			for (let i = 1; i <= 4000; i++) {
				craft.advance(1e-3, 1e-3);
				if (drive === weak) expect(Math.abs(craft.stepper.torques[0]!)).toBeLessThanOrEqual(0.25 + 1e-12);
				if (Number.isNaN(found) && craft.own[0]! > 0.9) found = i * 1e-3;
			}
			expect(Math.abs(craft.own[0]! - 1)).toBeLessThan(0.04);
			return found;
		};
		expect(arrival(weak)).toBeGreaterThan(1.3 * arrival(strong));
	});

	it("behind a spring it is no faster than its rate limit by more than the spring throws it", () => {
		const craft = onBench(soft({ rateLimitRadPerSec: 3, torqueLimitNm: 0.25 }));
		craft.stepper.aim(craft.own, 0, -2);
		let ahead = 0;
		for (let i = 0; i < 2000; i++) {
			craft.advance(1e-3, 1e-3);
			ahead = Math.max(ahead, Math.abs(craft.own[2]! - craft.own[0]!));
		}
		// The shaft stalls: never farther ahead than the limit over the stiffness, and what it takes to stop.
		expect(ahead).toBeLessThan(0.25 / 5 + 0.1);
	});
});

describe("a spring with play between servo and link", () => {
	it.each([0, 0.02])("hangs below its shaft by torque over stiffness and half the play of %d rad", (play) => {
		const craft = onBench(soft({ backlashRad: play, dampingNmSecPerRad: 0.2 }));
		craft.stepper.aim(craft.own, 0, 0);
		craft.advance(6);
		const angle = craft.own[0]!;
		// Positive angles raise what points ahead; weight times the lever at that angle.
		const moment = 0.2 * GRAVITY * 0.1 * Math.cos(angle);
		expect(Math.abs(craft.own[1]!)).toBeLessThan(1e-6);
		expect(Math.abs(craft.own[2]! - angle)).toBeCloseTo(moment / 5 + play / 2, 6);
		expect(angle).toBeLessThan(0);
	});
});

describe("a measured motion", () => {
	const points = [
		[0, 0],
		[0.1, 0.15],
		[0.25, 0.8],
		[0.45, 1.0],
		[0.6, 0.9],
	] as const;

	it.each([
		["a stiff servo", servo({ torqueLimitNm: 1e-3 })],
		["a servo behind a spring", soft()],
	])("is followed exactly, whatever torque that takes, by %s", (_, drive) => {
		const craft = limbBody(light, [drive], [0], [0.4, -0.3, 0.2]);
		const before = sumsOf(craft);
		craft.stepper.follow(craft.own, 0, points);
		const spline = createCubicSpline(points, 0, 0);
		const work = new Float64Array(SPLINE.length);
		for (let i = 1; i <= 600; i++) {
			craft.advance(1e-3, 1e-3);
			work[SPLINE.time] = i * 1e-3;
			spline.evaluate(work);
			expect(Math.abs(craft.own[0]! - work[SPLINE.value]!)).toBeLessThan(1e-10);
			expect(Math.abs(craft.own[1]! - work[SPLINE.slope]!)).toBeLessThan(1e-9);
		}
		const after = sumsOf(craft);
		after.angular.forEach((v, k) => {
			expect(Math.abs(v - before.angular[k]!)).toBeLessThan(1e-9);
		});
		craft.advance(1);
		if (drive.kind === "soft") expect(Math.abs(craft.own[0]! - 0.9)).toBeLessThan(0.05);
	});
});
