import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { AXES } from "../../src/control/spec.ts";
import type { Craft } from "../../src/craft/model.ts";
import { gainsAt } from "../../src/physics/gains-at.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { limitsOf } from "../../src/tuning/characters.ts";
import { proveEnvelope } from "../../src/tuning/envelope.ts";
import { cornersAt, envelopeCorners } from "../../src/tuning/reach-corners.ts";
import { type ScheduleResult, tuneSchedule } from "../../src/tuning/schedule.ts";
import { tune } from "../../src/tuning/tune.ts";

/** The demo craft with a 650 mm boom that swings down, 500 g at its end: its inertia about roll grows tenfold. Invented. */
function longBoom(): Craft {
	const document = JSON.parse(
		readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"),
	);
	const [boom, scoop] = document.craft.limb.links;
	const end = "-450 mm";
	boom.hinge = ["200 mm", 0, "60 mm"];
	boom.tip = [end, 0, "60 mm"];
	boom.travel = ["0 deg", "72 deg"];
	boom.servo.torque = "8 N m";
	scoop.hinge = [end, 0, "60 mm"];
	scoop.tip = [end, 0, "95 mm"];
	document.craft.limb.grip = [end, 0, "75 mm"];
	document.craft.load.mass = "500 g";
	// Frames in step with the loop, and fewer corners, so that the search takes seconds.
	document.craft.timing.frame = { period: "2 ms", phase: "0 us" };
	const loaded = loadScenario(JSON.stringify({ ...document, drills: [], operatingPoints: undefined }));
	if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
	return { ...loaded.scenario.craft, uncertainty: { inertia: 0, thrust: 0, motorLag: 0 } };
}

function run<T>(work: Generator<unknown, T>): T {
	let step = work.next();
	while (!step.done) step = work.next();
	return step.value;
}

describe("a craft whose inertia grows tenfold over its reach", () => {
	const craft = longBoom();
	const options = { character: "gentle", limits: { gainMarginDownDb: 9 }, name: "S" } as const;
	const limits = limitsOf(options.character, options.limits);
	let searched: ScheduleResult | null = null;
	/** Searched once, by whichever test comes first. */
	const search = (): ScheduleResult => {
		searched ??= run(tuneSchedule(craft, options));
		return searched;
	};

	it("has no one set that keeps every limit at every pose and load", () => {
		const one = tune(craft, { ...options, alternatives: false, corners: envelopeCorners(craft) });
		expect(one.feasible).toBe(false);
		expect(one.axes.roll.why).toMatch(/gain margin down/);
		expect(one.axes.yaw.why).not.toMatch(/unstable/);
	});
	it("has gains that follow pose and load: more where there is more to turn", { timeout: 240_000 }, () => {
		const found = search();
		expect(found.why).toBe("");
		const { schedule } = found.gainSet!;
		expect(schedule!.hinge).toBe("boom");
		expect(schedule!.anglesRad.length * schedule!.loadsKg.length).toBe(found.breakpoints.length);
		const kp = schedule!.factors.roll.kp;
		expect(kp[0]![0]).toBe(1);
		expect(kp.at(-1)!.at(-1)).toBeGreaterThan(3);
		for (const { poseRad, loadKg, tuned } of found.breakpoints)
			for (const axis of AXES) {
				const here = gainsAt(craft, found.gainSet!, cornersAt(craft, poseRad, loadKg)[0]!.point)[axis];
				for (const gain of ["kp", "ki", "kd"] as const)
					expect(here[gain]).toBeCloseTo(tuned!.gainSet![axis][gain], 12);
			}
	});
	it("keeps with them every limit frozen at 21 poses and three loads, and comes home from every swing", {
		timeout: 240_000,
	}, () => {
		const proof = run(proveEnvelope(craft, search().gainSet!, limits));
		expect(new Set(proof.frozen.map(({ pose }) => pose)).size).toBe(21);
		expect(proof.frozen.length).toBe(63);
		expect(proof.frozen.flatMap(({ broken, why }) => [...broken, ...(why ? [why] : [])])).toEqual([]);
		expect(proof.worst!.diskPhaseDeg).toBeGreaterThan(20);
		const count = (kind: string): number => proof.flights.filter((each) => each.kind === kind).length;
		expect([count("swing"), count("takeUp"), count("letGo")]).toEqual([4, 2, 2]);
		expect(proof.flights.filter(({ status }) => status !== "completed")).toEqual([]);
	});
});

it("names the pose and load that even gains of their own cannot serve", () => {
	const craft = longBoom();
	const result = run(tuneSchedule(craft, { character: "even", limits: { gainMarginDownDb: 60 } }));
	expect(result.gainSet).toBeNull();
	expect(result.why).toMatch(/not even gains of its own serve boom 0 deg, scoop 0 deg with no load: roll/);
});
