import { expect, it } from "vitest";
import { addRotor } from "../../../src/ui/commands/add-rotor.ts";
import { listRotors } from "../../../src/ui/commands/list-rotors.ts";
import { removeRotor } from "../../../src/ui/commands/remove-rotor.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { craftOf, done, readState, rotorsOf } from "./on-demo.ts";

const five = () => done(listRotors(readState(done()).craft.rotors), addRotor(0));

it("takes a rotor out, and its row of the mixer table", () => {
	const table = [1, 2, 3, 4, 5].map((k) => [k, 0, 0]);
	const state = removeRotor(1).apply(setValue("craft.mixer.table", table).apply(five()));
	expect(rotorsOf(state).map((each) => each["motor"])).toEqual([2, 4, 1, 3]);
	expect((craftOf(state)["mixer"] as { table: number[][] }).table.map((row) => row[0])).toEqual([1, 3, 4, 5]);
});
it("leaves four", () =>
	expect(() => removeRotor(0).apply(removeRotor(0).apply(five()))).toThrow("expected at least 4 to be left"));
