import type { Command } from "../state/model.ts";
import { read, readEntry, readList, write } from "./change-document.ts";

const ROTORS = "craft.rotors";
const NUMBERS = "firmware.motorNumbers";

/** One more rotor: like another, behind it, or a plain one at the end. Its motor gets the first number that is free. */
export function addRotor(like?: number): Command {
	return {
		name: like === undefined ? "one more rotor" : "copy a rotor",
		apply(state) {
			const rotors = readList(state.document, ROTORS) as readonly Readonly<Record<string, unknown>>[];
			if (rotors.length >= 8)
				throw new RangeError(`craft.rotors: ${rotors.length} rotors already, expected at most 8`);
			const motor = freeNumber(rotors.map((each, i) => each["motor"] ?? i + 1));
			const model =
				like === undefined
					? { place: "new", position: [0, 0, rotors[0] ? heightOf(rotors[0]) : 0], spin: "clockwise" }
					: (readEntry(state.document, ROTORS, like) as object);
			const rotor = { ...model, place: freePlace(rotors, model), motor };
			const at = like === undefined ? rotors.length : like + 1;
			let document = write(state.document, ROTORS, rotors.toSpliced(at, 0, rotor));
			const numbers = read(document, NUMBERS);
			if (Array.isArray(numbers))
				document = write(document, NUMBERS, numbers.toSpliced(at, 0, freeNumber(numbers)));
			return { ...state, document };
		},
	};
}

function freeNumber(taken: readonly unknown[]): number {
	for (let number = 1; ; number++) if (!taken.includes(number)) return number;
}

function freePlace(rotors: readonly Readonly<Record<string, unknown>>[], model: object): string {
	const wanted = String((model as { readonly place?: unknown }).place ?? "new").replace(/ \d+$/, "");
	const taken = rotors.map((each) => each["place"]);
	if (!taken.includes(wanted)) return wanted;
	for (let k = 2; ; k++) if (!taken.includes(`${wanted} ${k}`)) return `${wanted} ${k}`;
}

const heightOf = (rotor: Readonly<Record<string, unknown>>): unknown =>
	(Array.isArray(rotor["position"]) ? rotor["position"][2] : undefined) ?? 0;
