import { describe, expect, it } from "vitest";
import { loadDocument } from "../../../src/scenario/load.ts";
import { poseRefusal, setPose } from "../../../src/ui/commands/set-pose.ts";
import { begin, perform, undo } from "../../../src/ui/state/history.ts";
import type { PageState } from "../../../src/ui/state/model.ts";
import { DEMO_STATE } from "../sample.ts";

function scenarioOf({ document }: PageState) {
	const loaded = loadDocument(document);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario;
}
const named = (state: PageState, name: string) =>
	scenarioOf(state).operatingPoints.find((each) => each.name === name)?.point;
const DEG = Math.PI / 180;

describe("setPose", () => {
	it("changes a copy of a point of the file and chooses it; the next change stays with the copy", () => {
		const once = setPose("nominal", [150 * DEG, -150 * DEG]).apply(DEMO_STATE);
		expect(once.view.point).toBe("nominal, mine");
		expect(named(once, "nominal")!.limbRad).toBeUndefined();
		expect(named(once, "nominal, mine")!.limbRad![0]).toBeCloseTo(150 * DEG, 6);
		const twice = setPose("nominal, mine", [90 * DEG, 0]).apply(once);
		expect(scenarioOf(twice).operatingPoints).toHaveLength(scenarioOf(once).operatingPoints.length);
		expect(named(twice, "nominal, mine")!.limbRad![0]).toBeCloseTo(90 * DEG, 12);
		expect(JSON.stringify(twice.document)).toContain('"limb":["90 deg","0 deg"]');
	});
	it("'folded' takes the pose out", () => {
		const posed = setPose("full scoop", [1, 0]).apply(DEMO_STATE);
		const folded = setPose("full scoop, mine", null).apply(posed);
		expect(named(folded, "full scoop, mine")).toEqual(named(DEMO_STATE, "full scoop"));
	});
	it("leaves a second copy beside a first one", () => {
		const first = setPose("nominal", [1, 0]).apply(DEMO_STATE);
		const second = setPose("nominal", [0.5, 0]).apply(first);
		expect(second.view.point).toBe("nominal, mine 2");
		expect(named(second, "nominal, mine")!.limbRad![0]).toBeCloseTo(1, 5);
	});
	it("refuses what the servo cannot reach, and a number of angles that is not that of the hinges", () => {
		expect(() => setPose("nominal", [190 * DEG, 0]).apply(DEMO_STATE)).toThrow(
			"Limb at 190 deg: expected within the travel of 'boom', 0 deg to 180 deg.",
		);
		expect(() => setPose("nominal", [1]).apply(DEMO_STATE)).toThrow("2 angles, one per hinge: boom, scoop");
		expect(() => setPose("nowhere", [1, 0]).apply(DEMO_STATE)).toThrow("no operating point 'nowhere'");
	});
	it("refuses a pose within 10 mm of a propeller", () => {
		const { craft } = scenarioOf(DEMO_STATE);
		const near = { ...craft, limb: { ...craft.limb!, gripM: [-0.165, 0, -0.04] as const } };
		expect(poseRefusal(near, [0, 0])).toMatch(
			/stays 10 mm clear of every propeller; here 'grip' comes within/,
		);
		expect(poseRefusal(craft, [0, 0])).toBe("");
	});
	it("writes plain points out where the file has none", () => {
		const { operatingPoints: _, ...document } = DEMO_STATE.document;
		const before = scenarioOf({ ...DEMO_STATE, document }).operatingPoints;
		const after = setPose("heaviest load", [1, 0]).apply({ ...DEMO_STATE, document });
		expect(scenarioOf(after).operatingPoints.slice(0, -1)).toEqual(before);
		expect(named(after, "heaviest load, mine")).toMatchObject({ load: "heaviest" });
	});
	it("a drag from a point of the file is one step of undo", () => {
		let h = begin(DEMO_STATE);
		for (const [point, angle] of [
			["nominal", 0.1],
			["nominal, mine", 0.2],
			["nominal, mine", 0.3],
		] as const)
			h = perform(h, setPose(point, [angle, 0], "drag boom 1"));
		expect(named(h.present, "nominal, mine")!.limbRad![0]).toBeCloseTo(0.3, 5);
		expect(undo(h).present).toBe(DEMO_STATE);
	});
});
