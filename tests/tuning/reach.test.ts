import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { linearise } from "../../src/analysis/linearise.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { limitsOf } from "../../src/tuning/characters.ts";
import {
	createReach,
	failed,
	heaviestAt,
	LEAST_HEADROOM,
	MOST_SERVO_SHARE,
	type ReachStatics,
} from "../../src/tuning/reach.ts";
import { envelopeCorners } from "../../src/tuning/reach-corners.ts";
import { reachPoses } from "../../src/tuning/reach-pose.ts";

const G = 9.80665;
const loaded = loadScenario(readFileSync("scenarios/sandpiper.json", "utf8"));
if (!loaded.ok) throw new Error("sandpiper");
const { craft, gainSets } = loaded.scenario;
const set = gainSets[1]!;
const limits = limitsOf("even");
const reach = createReach(craft, set, limits, NOMINAL_POINT);
const poses = reachPoses(craft, 5);

const statics = (of: typeof reach, pose: readonly number[], kg: number): ReachStatics => {
	const answer = of.statics(pose, kg);
	if (failed(answer)) throw new Error(answer.reason);
	return answer;
};

describe("poses from folded to the far stop", () => {
	it("keep the scoop level and say how far the grip is", () => {
		expect(poses.map(({ poseRad }) => poseRad[0]! + poseRad[1]!)).toEqual(
			[0, 0, 0, 0, 0].map(() => expect.closeTo(0, 12)),
		);
		// Folded: grip at -165 mm; far stop, half a turn about the hinge at 45 mm: 45 + 210 = 255 mm, both from a centre of mass near -6 mm.
		const c = craft.bare.centreOfMassM[0];
		expect(poses[0]!.reachM).toBeCloseTo(Math.abs(-0.165 - c), 12);
		expect(poses[4]!.reachM).toBeCloseTo(0.255 - c, 12);
	});
});

describe("a limb in steady hover", () => {
	it("moves the centre of mass as bodies put together by hand do (parallel axes)", () => {
		const at = statics(reach, [Math.PI, -Math.PI], 0.3);
		// Half a turn about the pitch axis through (45, 60) mm; the scoop turns back about its own hinge, whose place it keeps from.
		const { limb, bare } = craft as Craft & { limb: NonNullable<Craft["limb"]> };
		const boom = limb.links[0]!.mass;
		const scoop = limb.links[1]!.mass;
		const x =
			(limb.frame.massKg * limb.frame.centreOfMassM[0] +
				boom.massKg * (2 * 0.045 - boom.centreOfMassM[0]) +
				scoop.massKg * (scoop.centreOfMassM[0] + 0.42) +
				0.3 * 0.255) /
			(bare.massKg + 0.3);
		expect(at.centreOfMassM[0]).toBeCloseTo(x, 12);
	});

	it("asks of its servo the weight outboard times its lever, and of every motor its share", () => {
		const at = statics(reach, [Math.PI, -Math.PI], 0.3);
		const boom = craft.limb!.links[0]!.mass;
		const scoop = craft.limb!.links[1]!.mass;
		// Levers about the boom's hinge, 45 mm: the boom's centre comes out at 2 x 45 + 60 = 150 mm, scoop and grip stand 420 mm farther forward than folded.
		const torque =
			G *
			(boom.massKg * (0.045 - boom.centreOfMassM[0]) +
				scoop.massKg * (scoop.centreOfMassM[0] + 0.42 - 0.045) +
				0.3 * (0.255 - 0.045));
		expect(Math.abs(at.servoNm[0]!)).toBeCloseTo(torque, 9);
		expect(at.commands[0]).toBeGreaterThan(at.commands[1]!);
		expect(at.shift[0]).toBeGreaterThan(0.1);
		const bare = statics(reach, [0, 0], 0);
		expect(Math.max(...bare.shift.map(Math.abs))).toBeLessThan(1e-9);
	});
});

describe("the heaviest load at a pose", () => {
	it("keeps every reserve and margin, and a little more does not", () => {
		const most = 0.9;
		const { heaviestKg, stops } = heaviestAt(reach, poses[4]!, most);
		expect(heaviestKg).not.toBeNull();
		const kg = heaviestKg!;
		const good = statics(reach, poses[4]!.poseRad, kg);
		expect(good.broken).toEqual([]);
		expect(1 - Math.max(...good.commands)).toBeGreaterThanOrEqual(LEAST_HEADROOM);
		expect(Math.abs(good.servoNm[0]!) / craft.limb!.links[0]!.servo.torqueLimitNm).toBeLessThan(
			MOST_SERVO_SHARE,
		);
		const margins = reach.margins(poses[4]!.poseRad, kg);
		expect(failed(margins) || margins.broken.length).toBe(0);
		expect(statics(reach, poses[4]!.poseRad, kg + most / 256).broken.length).toBeGreaterThan(0);
		expect(stops).toMatch(/motor to full command 0\.1\d+, limit 0\.15/);
	});

	it("is none where a pose is refused", () => {
		const refused = { ...poses[0]!, refused: "because" };
		expect(heaviestAt(reach, refused, 1)).toMatchObject({ heaviestKg: null, stops: "because" });
	});
});

describe("margins at an extreme pose", () => {
	it("frequency answers agree with the exact periodic ones where the load reaches farthest", () => {
		const point = { ...NOMINAL_POINT, limbRad: poses[4]!.poseRad, load: { massKg: 0.3 } };
		const found = linearise(craft, point);
		expect(found.feasible).toBe(true);
		const answer = marginsReport(craft, set, point);
		if (!answer.feasible) throw new Error(answer.reason);
		const { axes, periodic } = answer.report;
		expect(periodic.stable).toBe(true);
		for (const axis of ["roll", "pitch"] as const) {
			const byFrequency = axes[axis].wholeAxis!.gainMarginUpDb.value!;
			expect(Math.abs(periodic.axes[axis].wholeAxis!.gainMarginUpDb.value! - byFrequency)).toBeLessThan(0.1);
		}
	});
});

describe("corners of the whole reach", () => {
	it("are the craft's own and, in hover, those of every pose without and with the load", () => {
		const all = envelopeCorners(craft, 5);
		const posed = all.filter(({ point }) => point.limbRad);
		expect(posed.length).toBe(5 * 32);
		expect(new Set(all.map(({ name }) => name)).size).toBe(all.length);
		expect(posed.every(({ point }) => point.throttle === "hover")).toBe(true);
		expect(posed.some(({ name }) => name.endsWith("boom 180 deg, scoop -180 deg"))).toBe(true);
	});
});
