import type { Command } from "../state/model.ts";
import { read, readEntry, readList, write } from "./change-document.ts";

/** Lists with one entry per rotor, in their order. */
const PER_ROTOR = ["craft.mixer.table", "firmware.motorNumbers"];

/** Takes a rotor out, and with it its row in whatever has one per rotor. */
export function removeRotor(index: number): Command {
	return {
		name: "take out a rotor",
		apply(state) {
			readEntry(state.document, "craft.rotors", index);
			const rotors = readList(state.document, "craft.rotors");
			if (rotors.length <= 4)
				throw new RangeError(`craft.rotors: ${rotors.length} rotors, expected at least 4 to be left`);
			let document = write(
				state.document,
				"craft.rotors",
				rotors.filter((_, i) => i !== index),
			);
			for (const path of PER_ROTOR) {
				const rows = read(document, path);
				if (Array.isArray(rows) && rows.length === rotors.length)
					document = write(
						document,
						path,
						rows.filter((_, i) => i !== index),
					);
			}
			return { ...state, document };
		},
	};
}
