import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { loadDocument } from "../../src/scenario/load.ts";

const document = JSON.parse(readFileSync(new URL("../../scenarios/wren.json", import.meta.url), "utf8"));
const withRig = (rig: unknown, more: object = {}) =>
	loadDocument({ ...document, drills: [{ name: "x", duration: "5 s", rig, ...more }] });

const pivot = {
	kind: "pivot",
	axis: "pitch",
	through: ["10 mm", "0 mm", "-30 mm"],
	addedInertia: "2e-4 kg m^2",
	friction: "1e-4 N m s/rad",
	startAngle: "-20 deg",
	stopAngle: "45 deg",
};
const strings = {
	kind: "strings",
	axis: "roll",
	strings: [{ body: [0, 0, "-20 mm"], length: "800 mm" }],
	stiffness: "500 N/m",
	damping: "2 N s/m",
};

describe("rigs in scenario files", () => {
	it("are read into the model's units", () => {
		const result = withRig(pivot);
		expect(result.ok && result.scenario.drills[0]!.rig).toEqual({
			kind: "pivot",
			axis: "pitch",
			throughM: [0.01, 0, -0.03],
			addedInertiaKgM2: 2e-4,
			frictionNmSec: 1e-4,
			startAngleRad: (-20 * Math.PI) / 180,
			stopAngleRad: Math.PI / 4,
		});
		const hung = withRig(strings);
		expect(hung.ok && hung.scenario.drills[0]!.rig).toEqual({
			kind: "strings",
			axis: "roll",
			strings: [{ bodyM: [0, 0, -0.02], lengthM: 0.8 }],
			stiffnessNPerM: 500,
			dampingNSecPerM: 2,
			startAngleRad: 0,
		});
	});

	it("left out, add nothing and have no stops", () => {
		const { kind, axis, through } = pivot;
		const result = withRig({ kind, axis, through });
		expect(result.ok && result.scenario.drills[0]!.rig).toMatchObject({
			addedInertiaKgM2: 0,
			frictionNmSec: 0,
			startAngleRad: 0,
			stopAngleRad: null,
		});
	});

	it.each([
		[{ ...pivot, kind: "gimbal" }, {}, "drills[0].rig.kind", /"pivot" or "strings"/],
		[{ ...pivot, axis: "sideways" }, {}, "drills[0].rig.axis", /"roll", "pitch", "yaw"/],
		[{ ...pivot, friction: "3 N m" }, {}, "drills[0].rig.friction", /friction torque over turn rate/],
		[{ ...pivot, startAngle: "50 deg" }, {}, "drills[0].rig.startAngle", /between the stops/],
		[pivot, { start: "ground" }, "drills[0].rig", /neither starts on the ground/],
		[{ ...strings, strings: [] }, {}, "drills[0].rig.strings", /1 to 8 entries/],
		[{ ...strings, stiffness: "0 N/m" }, {}, "drills[0].rig.stiffness", /above 0 N\/m/],
	])("%j is refused with what is expected", (rig, more, path, expected) => {
		const result = withRig(rig, more);
		const error = result.ok ? null : result.errors[0]!;
		expect(error?.path).toBe(path);
		expect(error?.expected).toMatch(expected);
	});

	it("every craft without drills of its own has both", () => {
		const { drills: _, ...bare } = document;
		const result = loadDocument(bare);
		const rigs = result.ok ? result.scenario.drills.flatMap((each) => (each.rig ? [each.name] : [])) : [];
		expect(rigs).toEqual(["roll pivot", "string rig"]);
	});
});
