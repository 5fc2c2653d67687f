import { describe, expect, it } from "vitest";
import { removePoint } from "../../../src/ui/commands/remove-point.ts";
import { setLoad } from "../../../src/ui/commands/set-load.ts";
import { DEMO_STATE } from "../sample.ts";

describe("removePoint", () => {
	it("takes a copy out again and goes back to what it began as", () => {
		const own = setLoad("full battery", 0.1).apply(DEMO_STATE);
		const back = removePoint("full battery, mine").apply(own);
		expect(back.document["operatingPoints"]).toEqual(DEMO_STATE.document["operatingPoints"]);
		expect(back.view.point).toBe("full battery");
	});
	it("refuses one that is not there and the last one", () => {
		expect(() => removePoint("nowhere").apply(DEMO_STATE)).toThrow("no operating point 'nowhere'");
		const one = { ...DEMO_STATE, document: { ...DEMO_STATE.document, operatingPoints: [{ name: "only" }] } };
		expect(() => removePoint("only").apply(one)).toThrow("one has to stay");
	});
});
