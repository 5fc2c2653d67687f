import type { LayoutWord } from "../../craft/input.ts";
import type { Rotor } from "../../craft/model.ts";
import { hubSpan } from "../../craft/small-parts.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Command } from "../state/model.ts";
import { write } from "./change-document.ts";

const WORDS: Readonly<Record<number, readonly [LayoutWord, LayoutWord]>> = {
	4: ["X", "plus"],
	6: ["hex", "hex plus"],
	8: ["octo", "octo plus"],
};

/** The list of rotors in one word again: as many, as far apart (to five digits), the first one's spin as it was. */
export function rotorsByLayout(rotors: readonly Rotor[]): Command {
	return {
		name: "rotors by layout and wheelbase",
		apply(state) {
			const words = WORDS[rotors.length];
			if (!words)
				throw new RangeError(`${rotors.length} rotors have no layout word, expected 4, 6 or 8 of them`);
			const bearing = ({ positionM: [x, y] }: Rotor): number =>
				(Math.atan2(y, x) + 2 * Math.PI - 1e-6) % (2 * Math.PI);
			const ahead = rotors.some(({ positionM: [x, y] }) => x > 0 && Math.abs(y) < 0.1 * x);
			const first = [...rotors].sort((a, b) =>
				ahead ? Math.abs(a.positionM[1]) - Math.abs(b.positionM[1]) : bearing(a) - bearing(b),
			);
			const spin = (ahead ? first.find((each) => each.positionM[0] > 0) : first[0])!.spin;
			const height = -rotors.reduce((sum, each) => sum + each.positionM[2], 0) / rotors.length;
			const entries = {
				rotors: undefined,
				layout: words[ahead ? 1 : 0],
				wheelbase: formatQuantity("length", hubSpan(rotors), 5),
				frontRightSpin: spin === 1 ? "clockwise" : "counter-clockwise",
				rotorHeight: formatQuantity("length", height, 5),
			};
			let { document } = state;
			for (const [key, value] of Object.entries(entries)) document = write(document, `craft.${key}`, value);
			return { ...state, document };
		},
	};
}
