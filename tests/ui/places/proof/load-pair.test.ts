import { describe, expect, it } from "vitest";
import type { Drill } from "../../../../src/flight/drill.ts";
import { loadScenario } from "../../../../src/scenario/load.ts";
import { loadPair } from "../../../../src/ui/places/proof/load-pair.ts";
import { DEMO_STATE } from "../../sample.ts";

const still: Pick<Drill, "events"> = { events: [] };
const swings: Pick<Drill, "events"> = { events: [{ kind: "limb", atSec: 1, link: 0, angleRad: 1 }] };
const { document } = DEMO_STATE;

function pointsIn(text: string) {
	const loaded = loadScenario(text);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	return loaded.scenario.operatingPoints;
}

describe("a point without load and with the heaviest", () => {
	it("differs in nothing else", () => {
		const pair = loadPair(document, "full scoop, nearly empty", still, 2);
		const [bare, laden] = pointsIn(pair.text);
		expect([bare!.name, laden!.name]).toEqual(pair.points);
		expect(bare!.point).toMatchObject({ load: "none", battery: "nearlyEmpty" });
		expect(laden!.point).toEqual({ ...bare!.point, load: "heaviest" });
		expect(pair.inGrip).toBe(false);
		expect(bare!.point.limbRad).toBeUndefined();
	});
	it("has the load in the grip where the drill moves the limb, folded where the point says no pose", () => {
		const pair = loadPair(document, "nominal", swings, 2);
		expect(pair.inGrip).toBe(true);
		for (const { point } of pointsIn(pair.text)) expect(point.limbRad).toEqual([0, 0]);
	});
	it("leaves the document alone and refuses a point that is not there", () => {
		const before = JSON.stringify(document);
		loadPair(document, "nominal", swings, 2);
		expect(JSON.stringify(document)).toBe(before);
		expect(() => loadPair(document, "nowhere", still, 2)).toThrow("no operating point 'nowhere'");
	});
});
