import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import type { DrillEvent } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import {
	craft,
	drillOf,
	gainSets,
	leastAllocatedInMoves,
	moveAtSec,
	QUIET,
} from "../fixtures/sandpiper-flight.ts";

const DEG = Math.PI / 180;
const gainSet = gainSets[0]!;
const boom = (atSec: number, degrees: number, more: object = {}): DrillEvent => ({
	atSec,
	kind: "limb",
	link: 0,
	angleRad: degrees * DEG,
	...more,
});
const withLimb = (
	change: (links: NonNullable<Craft["limb"]>["links"]) => NonNullable<Craft["limb"]>["links"],
): Craft => ({
	...craft,
	limb: { ...craft.limb!, links: change(craft.limb!.links) },
});
const grab: DrillEvent = {
	atSec: 2.2,
	kind: "takeUp",
	massKg: 0.2,
	positionM: craft.limb!.gripM,
	inGrip: true,
};

describe("a flight in which the limb moves", () => {
	it("gives the same bytes twice: swing, take-up, let-go, noise on", () => {
		const drill = drillOf([boom(0.5, 120), grab, { atSec: 2.6, kind: "letGo" }]);
		const once = (): string => {
			const { trace, status, notes } = fly({ craft, point: NOMINAL_POINT, gainSet, drill });
			return JSON.stringify([
				status,
				notes,
				Object.values(trace.columns).map((column) => Array.from(column)),
			]);
		};
		const first = once();
		expect(first.length).toBeGreaterThan(1e5);
		expect(once()).toBe(first);
	});

	it("is the flight without a limb where the limb is told to stay, within 1e-9", () => {
		const calm = withLimb((links) =>
			links.map((link) => ({ ...link, dragAreaM2: 0, servo: { ...link.servo, stallCurrentA: 0 } })),
		);
		const step: DrillEvent = { atSec: 0.3, kind: "angle", axis: "roll", angleRad: 0.2 };
		const flown = (events: DrillEvent[]) =>
			fly({ craft: calm, point: NOMINAL_POINT, gainSet, drill: drillOf(events), options: QUIET }).trace;
		const without = flown([step]);
		const staying = flown([step, boom(0.1, 0)]);
		expect(staying.columns["limbAngle0"]!.every((angle) => angle === 0)).toBe(true);
		expect(Math.max(...without.columns["roll"]!)).toBeGreaterThan(0.15);
		for (const [name, column] of Object.entries(without.columns)) {
			const most = column.reduce(
				(worst, v, i) => Math.max(worst, Math.abs(v - staying.columns[name]![i]!)),
				0,
			);
			const size = column.reduce((largest, v) => Math.max(largest, Math.abs(v)), 1);
			expect(most / size, name).toBeLessThan(1e-9);
		}
	});

	it.each([
		["stiff servos, with a measured motion", craft],
		[
			"a spring with play in each joint",
			withLimb((links) =>
				links.map((link) => ({
					...link,
					servo: { ...link.servo, stiffnessNmPerRad: 4, backlashRad: 0.02, jitterRad: 0.01 },
				})),
			),
		],
		[
			"a load on a tether",
			{ ...craft, load: { ...craft.load, tether: { lengthM: 0.4, dampingRatio: 0.01 } } },
		],
	] as const)("allocates nothing while it moves: %s", (_, each) => {
		const moves = Array.from({ length: 30 }, (_, i) => boom(moveAtSec(i), i % 2 ? 0 : 100));
		const profile = [
			[0, 0],
			[0.3, 0.1],
			[0.6, 0],
		] as const;
		const measured = moves.map(
			({ atSec }): DrillEvent => ({ atSec, kind: "limb", link: 1, angleRad: 0, profile }),
		);
		const drill = drillOf([...moves, ...measured], { durationSec: 30 });
		const point = { ...NOMINAL_POINT, load: "heaviest" as const };
		const flight = createFlight({ craft: each, point, gainSet, drill, options: { recordPeriodUs: 0 } });
		// What flights have in common is compiled by one without a limb.
		createFlight({
			craft,
			point: NOMINAL_POINT,
			gainSet,
			drill: drillOf([], { durationSec: 30 }),
			options: { recordPeriodUs: 0 },
		}).advanceTo(30e6);
		flight.advanceTo(2e6);
		// 0.6 s are 300 ticks and some 1,000 steps of four stages: one boxed number (16 bytes) a stage is 64 kB.
		const least = leastAllocatedInMoves(flight, 3);
		expect(flight.ending).toBe(null);
		expect(least).toBeLessThan(3000);
	});

	it("comes back from a snapshot to the same numbers", () => {
		const point = { ...NOMINAL_POINT, load: "heaviest" as const };
		const hung = { ...craft, load: { ...craft.load, tether: { lengthM: 0.4, dampingRatio: 0.01 } } };
		const step: DrillEvent = { atSec: 0.1, kind: "angle", axis: "pitch", angleRad: 0.15 };
		const flight = createFlight({
			craft: hung,
			point,
			gainSet,
			drill: drillOf([step, boom(0.1, 90)]),
			options: QUIET,
		});
		flight.advanceTo(0.6e6);
		const kept = flight.snapshot();
		flight.advanceTo(1e6);
		const first = flight.snapshot();
		flight.restore(kept);
		flight.advanceTo(1e6);
		expect(Array.from(flight.snapshot())).toEqual(Array.from(first));
		const names = flight.live().map(({ name }) => name);
		expect(names.filter((name) => /^joint/.test(name))).toHaveLength(4);
	});
});

describe("what a flight says of its limb", () => {
	it("a servo too weak for the swing, and the current it takes", () => {
		const weak = withLimb((links) =>
			links.map((link, i) => (i ? link : { ...link, servo: { ...link.servo, torqueLimitNm: 0.12 } })),
		);
		const { notes } = fly({
			craft: weak,
			point: NOMINAL_POINT,
			gainSet,
			drill: drillOf([boom(0.2, 90)]),
			options: QUIET,
		});
		expect(notes.join()).toMatch(
			/servo of 'boom': up to 0\.12 of its 0\.12 N m \(100 %\), 1\.6 A; overpowered for/,
		);
	});

	it("a limb that starts from a pose whose way leads through a propeller", () => {
		const point = { ...NOMINAL_POINT, limbRad: [Math.PI / 2, 0] };
		const high = { ...craft, limb: { ...craft.limb!, gripRadiusM: 0.4 } };
		const { outsideModel } = fly({
			craft: high,
			point,
			gainSet,
			drill: drillOf([boom(0.2, 150)]),
			options: QUIET,
		});
		expect(outsideModel.join()).toMatch(/'grip' came within \d+ mm of the .* propeller's disc at \d\.\d\d s/);
	});
});
