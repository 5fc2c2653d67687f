import { describe, expect, it } from "vitest";
import type { LayoutWord } from "../../../src/craft/input.ts";
import { addRotor } from "../../../src/ui/commands/add-rotor.ts";
import { listRotors } from "../../../src/ui/commands/list-rotors.ts";
import { rotorsByLayout } from "../../../src/ui/commands/rotors-by-layout.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { craftOf, done, readState } from "./on-demo.ts";

const WORDS: readonly LayoutWord[] = ["X", "plus", "hex", "hex plus", "octo", "octo plus"];

describe("rotorsByLayout", () => {
	it.each(WORDS.flatMap((word) => ["clockwise", "counter-clockwise"].map((spin) => [word, spin] as const)))(
		"finds %s, first rotor %s, again",
		(word, spin) => {
			const begun = done(
				setValue("craft.motorNumbers", undefined),
				setValue("craft.layout", word),
				setValue("craft.frontRightSpin", spin),
			);
			const listed = listRotors(readState(begun).craft.rotors).apply(begun);
			const { rotors } = readState(listed).craft;
			expect(craftOf(rotorsByLayout(rotors).apply(listed))).toMatchObject({
				layout: word,
				frontRightSpin: spin,
				wheelbase: "520 mm",
				rotorHeight: "40 mm",
			});
		},
	);
	it("has no word for five", () => {
		const { rotors } = readState(done()).craft;
		const five = done(listRotors(rotors), addRotor());
		expect(() => rotorsByLayout(readState(five).craft.rotors).apply(five)).toThrow("expected 4, 6 or 8");
	});
});
