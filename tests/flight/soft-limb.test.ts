import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { linearise } from "../../src/analysis/linearise.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { loadScenario } from "../../src/scenario/load.ts";

const loaded = loadScenario(readFileSync("scenarios/sandpiper.json", "utf8"));
if (!loaded.ok) throw new Error("sandpiper");
const { craft: stiff, gainSets } = loaded.scenario;
const soft: Craft = {
	...stiff,
	limb: {
		...stiff.limb!,
		links: stiff.limb!.links.map((link, i) =>
			i === 0 ? { ...link, servo: { ...link.servo, stiffnessNmPerRad: 12, backlashRad: 0.01 } } : link,
		),
	},
};
const point = { ...NOMINAL_POINT, limbRad: [Math.PI, -Math.PI], load: { massKg: 0.3 } };

describe("a limb on a soft servo", () => {
	it("begins a flight where its spring carries link and load: nothing sags", () => {
		const { status, trace } = fly({
			craft: soft,
			point,
			gainSet: gainSets[1]!,
			drill: {
				name: "hover",
				about: "",
				durationSec: 0.5,
				heightM: 50,
				seed: 1,
				events: [{ atSec: 0.499, kind: "limb", link: 1, angleRad: -Math.PI }],
				wind: STILL_AIR,
			},
			options: { noise: false, rounding: false },
		});
		expect(status).toBe("completed");
		const boom = trace.columns["limbAngle0"]!;
		// Rotors' wash and the springs' own rounding: far below the 4 degrees that the load bends the spring by.
		for (let i = 0; i < trace.length; i++) expect(Math.abs(boom[i]! - Math.PI)).toBeLessThan(2e-3);
	});

	it("swings by itself in the linear model, stiff servos do not", () => {
		const names = (craft: Craft) => {
			const found = linearise(craft, point);
			if (!found.feasible) throw new Error(found.reason);
			return found.linear.names.filter((name) => name.includes("Joint"));
		};
		expect(names(soft)).toEqual(["pitchJoint0", "pitchJointRate0"]);
		expect(names(stiff)).toEqual([]);
	});
});
