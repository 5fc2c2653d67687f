import { expect, it } from "vitest";
import { setComponent } from "../../../src/ui/commands/set-component.ts";
import { craftOf, done, readState } from "./on-demo.ts";

it("writes one of several numbers, the others as they hold", () => {
	const whole = ["-6 mm", "0 mm", "-5 mm"];
	const state = done(setComponent("craft.centreOfMass", 1, "3 mm", whole));
	expect(craftOf(state)["centreOfMass"]).toEqual(["-6 mm", "3 mm", "-5 mm"]);
	expect(readState(state).craft.bare.centreOfMassM).toEqual([-0.006, 0.003, -0.005]);
	const again = setComponent("craft.centreOfMass", 0, "1 mm", whole).apply(state);
	expect(craftOf(again)["centreOfMass"]).toEqual(["1 mm", "3 mm", "-5 mm"]);
});
it("emptied, is as it holds", () => {
	const state = done(setComponent("craft.parts[1].position", 0, undefined, [0, 0, 0]));
	expect(readState(state).parts[1]!.position).toEqual([0, 0, -0.042]);
});
it("refuses a place that there is none of", () =>
	expect(() => done(setComponent("craft.centreOfMass", 3, 1, [0, 0, 0]))).toThrow("expected one of 3"));
