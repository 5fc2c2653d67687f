import { expect, it } from "vitest";
import { removePlace } from "../../../src/ui/commands/remove-place.ts";
import { done, partsOf } from "./on-demo.ts";

it("leaves the last place as a plain position", () => {
	expect(partsOf(done(removePlace(4, 1)))[4]!["at"]).toHaveLength(3);
	const boom = partsOf(done(removePlace(2, 0)))[2]!;
	expect(boom).not.toHaveProperty("at");
	expect(boom["position"]).toEqual(["-110 mm", "-110 mm", 0]);
});
it("refuses a place that is not there", () =>
	expect(() => done(removePlace(4, 4))).toThrow("craft.parts[4].at: no entry 4, expected one of 4"));
