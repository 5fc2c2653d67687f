import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import type { DrillEvent } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import { hangDirection } from "../../src/flight/load-hang.ts";
import * as mat3 from "../../src/math/mat3.ts";
import { fromEuler, toMatrix } from "../../src/math/quaternion.ts";
import type { Vec3 } from "../../src/math/types.ts";
import * as vec3 from "../../src/math/vec3.ts";
import { limbTree } from "../../src/physics/limb-tree.ts";
import { craft, drillOf, gainSets, QUIET } from "../fixtures/sandpiper-flight.ts";

const gainSet = gainSets[1]!;
const LENGTH = 0.4;
const onTether: Craft = {
	...craft,
	load: { ...craft.load, tether: { lengthM: LENGTH, dampingRatio: 0.01 } },
};
const sloshing: Craft = {
	...craft,
	load: { ...craft.load, liquid: { share: 0.5, lengthM: 0.05, dampingRatio: 0.02 } },
};
const takeUp = (atSec: number, inGrip = true): DrillEvent => ({
	kind: "takeUp",
	atSec,
	massKg: 0.2,
	positionM: inGrip ? craft.limb!.gripM : [0, 0, 0.09],
	...(inGrip && { inGrip: true }),
});
const boom = (atSec: number, angleRad: number): DrillEvent => ({ kind: "limb", atSec, link: 0, angleRad });
const lean = (atSec: number, axis: "roll" | "pitch", angleRad: number): DrillEvent => ({
	kind: "angle",
	atSec,
	axis,
	angleRad,
});
const last = (column: Float64Array): number => column[column.length - 1]!;

/** Rodrigues' rotation of `v` about a unit vector. */
function about(axis: Vec3, angleRad: number, v: Vec3): Vec3 {
	const c = Math.cos(angleRad);
	return vec3.add(
		vec3.add(vec3.scale(v, c), vec3.scale(vec3.cross(axis, v), Math.sin(angleRad))),
		vec3.scale(axis, vec3.dot(axis, v) * (1 - c)),
	);
}

describe("which way a load hangs, in the trace", () => {
	it("is that of the flight's own joint angles and attitude, limb reaching and craft turned", () => {
		const events = [boom(0.1, 1.2), takeUp(1), lean(1.3, "pitch", 0.25), lean(1.3, "roll", 0.2)];
		const flight = createFlight({
			craft: onTether,
			point: NOMINAL_POINT,
			gainSet,
			drill: drillOf([...events, { kind: "rate", atSec: 1.2, axis: "yaw", rateRadPerSec: 1.5 }]),
			options: QUIET,
		});
		flight.advanceTo(2_000_000);
		const of = (name: string): number =>
			flight.state[flight.live().find((each) => each.name === name)!.index]!;
		const { trace } = flight.result();
		const { columns } = trace;
		// The trace's last row is that of the state: it records every 2 ms.
		expect(last(columns["time"]!)).toBeCloseTo(2, 9);
		const pose = [last(columns["limbAngle0"]!), last(columns["limbAngle1"]!)];
		const at = columns["time"]!.findIndex((time) => time >= 1 - 1e-9);
		const poseTaken = [columns["limbAngle0"]![at]!, columns["limbAngle1"]![at]!];
		const attitude = (i: number) =>
			toMatrix(fromEuler([columns["roll"]![i]!, columns["pitch"]![i]!, columns["yaw"]![i]!]));
		const down = mat3.times(mat3.transpose(attitude(at)), [0, 0, 1]);
		const { bodies } = limbTree(
			onTether,
			[{ massKg: 0.2, positionM: craft.limb!.gripM, inGrip: true }],
			poseTaken,
			down,
		).tree;
		let hang = vec3.subtract(bodies[3]!.mass.centreOfMassM, bodies[3]!.hingeM);
		hang = about(bodies[3]!.axis, of("joint 3 angle"), hang);
		hang = about(bodies[2]!.axis, of("joint 2 angle"), hang);
		// Both links of the demo craft turn about its pitch axis.
		hang = about([0, 1, 0], pose[0]! + pose[1]!, hang);
		const world = vec3.scale(mat3.times(attitude(trace.length - 1), hang), 1 / LENGTH);
		const traced = hangDirection(last(columns["swingNorth0"]!), last(columns["swingEast0"]!));
		expect(Math.hypot(world[0], world[1])).toBeGreaterThan(0.1);
		expect(vec3.length(vec3.subtract(traced, world))).toBeLessThan(1e-9);
		expect(last(columns["swing0"]!)).toBeCloseTo(Math.acos(world[2]), 9);
	});

	it("a load at rest on a long cord lags behind a craft that is pulled away, north and east", () => {
		const { trace } = fly({
			craft: onTether,
			point: { ...NOMINAL_POINT, load: { massKg: 0.2 } },
			gainSet,
			drill: drillOf([lean(0.1, "pitch", -0.2), lean(0.1, "roll", 0.2)], { durationSec: 1 }),
			options: QUIET,
		});
		const { columns } = trace;
		const i = columns["time"]!.findIndex((time) => time >= 0.6);
		expect(columns["velocityNorth"]![i]!).toBeGreaterThan(0.2);
		expect(columns["velocityEast"]![i]!).toBeGreaterThan(0.2);
		expect(columns["swingNorth0"]![i]!).toBeLessThan(-0.02);
		expect(columns["swingEast0"]![i]!).toBeLessThan(-0.02);
	});

	it("a limb that turns leaves its load hanging straight down, and that is no slack cord", () => {
		const { trace, outsideModel } = fly({
			craft: onTether,
			point: { ...NOMINAL_POINT, load: { massKg: 0.05 }, limbRad: [0, 0] },
			gainSet,
			drill: drillOf([{ ...boom(0.2, 2.6), overSec: 4 } as DrillEvent], { durationSec: 6 }),
			options: QUIET,
		});
		expect(Math.max(...trace.columns["limbAngle0"]!)).toBeGreaterThan(2.5);
		expect(Math.max(...trace.columns["swing0"]!)).toBeLessThan(1);
		expect(outsideModel.filter((said) => said.includes("tether"))).toEqual([]);
	});

	it("is 0 before a load is taken up and after it is let go, and each load has its own", () => {
		const { trace } = fly({
			craft: onTether,
			point: NOMINAL_POINT,
			gainSet,
			drill: drillOf(
				[takeUp(0.5, false), lean(0.6, "roll", 0.2), takeUp(1, false), { kind: "letGo", atSec: 1.5 }],
				{ durationSec: 2 },
			),
			options: QUIET,
		});
		const { columns } = trace;
		const most = (name: string, from: number, to: number): number =>
			columns[name]!.reduce(
				(worst, v, i) =>
					columns["time"]![i]! > from && columns["time"]![i]! < to ? Math.max(worst, Math.abs(v)) : worst,
				0,
			);
		expect(most("swing0", 0, 0.499)).toBe(0);
		expect(most("swing0", 0.6, 1.5)).toBeGreaterThan(0.05);
		expect(most("swing1", 0, 0.999)).toBe(0);
		expect(most("swing1", 1.01, 1.499)).toBeGreaterThan(0.005);
		expect(most("swing0", 1.501, 2)).toBe(0);
		expect(most("swing1", 1.501, 2)).toBe(0);
	});

	it("a liquid's swing is traced too; what does not swing has no such column", () => {
		const names = (each: Craft): string[] =>
			Object.keys(
				fly({
					craft: each,
					point: { ...NOMINAL_POINT, load: "heaviest" },
					gainSet,
					drill: drillOf([boom(0.1, 0.2)], { durationSec: 0.2 }),
				}).trace.columns,
			).filter((name) => name.startsWith("swing"));
		expect(names(sloshing)).toEqual(["swing0", "swingNorth0", "swingEast0"]);
		expect(names(craft)).toEqual([]);
	});

	it("direction and shares are each other's inverse", () => {
		for (const [north, east] of [
			[0, 0],
			[0.3, -0.4],
			[-2, 1],
		] as const) {
			const [n, e, d] = hangDirection(north, east);
			expect(Math.hypot(n, e, d)).toBeCloseTo(1, 14);
			expect(Math.atan2(Math.hypot(n, e), d)).toBeCloseTo(Math.hypot(north, east), 12);
			expect(n * east - e * north).toBeCloseTo(0, 14);
		}
	});
});
