import { expect, it } from "vitest";
import { addRotor } from "../../../src/ui/commands/add-rotor.ts";
import { listRotors } from "../../../src/ui/commands/list-rotors.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { done, readState, rotorsOf } from "./on-demo.ts";

const listed = () => listRotors(readState(done()).craft.rotors);

it("adds a plain one with a free motor number, or one like another behind it", () => {
	const plain = done(listed(), addRotor());
	expect(rotorsOf(plain)[4]).toEqual({
		place: "new",
		motor: 5,
		position: [0, 0, "-40 mm"],
		spin: "clockwise",
	});
	expect(readState(plain).craft.rotors).toHaveLength(5);
	const copied = done(listed(), addRotor(0));
	expect(rotorsOf(copied)[1]).toEqual({ ...rotorsOf(copied)[0], place: "front right 2", motor: 5 });
});
it("keeps the firmware's own motor numbers one per rotor", () => {
	const state = done(setValue("firmware.motorNumbers", [3, 1, 0, 2]), listed(), addRotor(1));
	expect((state.document["firmware"] as { motorNumbers: unknown }).motorNumbers).toEqual([3, 1, 4, 0, 2]);
});
it("holds eight", () => {
	const full = done(listed(), addRotor(), addRotor(), addRotor(), addRotor());
	expect(() => addRotor().apply(full)).toThrow("8 rotors already, expected at most 8");
});
