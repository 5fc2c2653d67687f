import { expect, it } from "vitest";
import { listRotors } from "../../../src/ui/commands/list-rotors.ts";
import { craftOf, done, readState, rotorsOf } from "./on-demo.ts";

it("writes the rotors of a layout one by one; the craft stays what it was", () => {
	const { rotors } = readState(done()).craft;
	const state = done(listRotors(rotors));
	for (const key of ["layout", "wheelbase", "frontRightSpin", "motorNumbers", "rotorHeight"])
		expect(craftOf(state)).not.toHaveProperty(key);
	expect(rotorsOf(state)[0]).toEqual({
		place: "front right",
		motor: 2,
		position: ["183.848 mm", "183.848 mm", "-40 mm"],
		spin: "counter-clockwise",
	});
	const read = readState(state).craft.rotors;
	read.forEach((rotor, i) => {
		expect({ ...rotor, positionM: 0 }).toEqual({ ...rotors[i], positionM: 0 });
		rotor.positionM.forEach((each, k) => {
			expect(each).toBeCloseTo(rotors[i]!.positionM[k]!, 6);
		});
	});
});
