import { describe, expect, it } from "vitest";
import { loadDocument } from "../../../src/scenario/load.ts";
import { setLoad } from "../../../src/ui/commands/set-load.ts";
import { setPose } from "../../../src/ui/commands/set-pose.ts";
import type { PageState } from "../../../src/ui/state/model.ts";
import { DEMO_STATE } from "../sample.ts";

function loadOf({ document, view }: PageState) {
	const loaded = loadDocument(document);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario.operatingPoints.find((each) => each.name === view.point)!.point.load;
}

describe("setLoad", () => {
	it("writes nothing, a mass or the heaviest into a copy of the point", () => {
		const some = setLoad("nominal", 0.12, { written: "120 g" }).apply(DEMO_STATE);
		expect(some.view.point).toBe("nominal, mine");
		expect(loadOf(some)).toEqual({ massKg: 0.12 });
		expect(loadOf(setLoad("nominal, mine", 0.3).apply(some))).toBe("heaviest");
		expect(loadOf(setLoad("nominal, mine", 0).apply(some))).toBe("none");
		expect(loadOf(setLoad("full scoop", 0).apply(DEMO_STATE))).toBe("none");
	});
	it("leaves the pose as it is", () => {
		const posed = setPose("nominal", [1, 0]).apply(DEMO_STATE);
		const both = setLoad("nominal, mine", 0.3).apply(posed).document["operatingPoints"] as {
			name: string;
			limb?: unknown;
		}[];
		expect(both.find(({ name }) => name === "nominal, mine")!.limb).toHaveLength(2);
	});
	it("refuses more than the craft is meant to carry, and less than nothing", () => {
		expect(() => setLoad("nominal", 0.31).apply(DEMO_STATE)).toThrow(
			"Load 310 g: expected 0 to the heaviest load, 300 g (craft.load.mass).",
		);
		expect(() => setLoad("nominal", -0.1).apply(DEMO_STATE)).toThrow("expected 0 to the heaviest");
	});
});
