import type { Rotor } from "../../craft/model.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Command } from "../state/model.ts";
import { write } from "./change-document.ts";

const BY_LAYOUT = ["layout", "wheelbase", "frontRightSpin", "motorNumbers", "rotorHeight"];

/** The rotors that a layout word and a wheelbase made, written one by one, so that each can be moved. */
export function listRotors(rotors: readonly Rotor[]): Command {
	return {
		name: "list the rotors one by one",
		apply(state) {
			let { document } = state;
			for (const key of BY_LAYOUT) document = write(document, `craft.${key}`, undefined);
			const list = rotors.map(({ place, motorNumber, positionM, spin }) => ({
				place,
				motor: motorNumber,
				position: positionM.map((each) => (each === 0 ? 0 : formatQuantity("length", each, 6))),
				spin: spin === 1 ? "clockwise" : "counter-clockwise",
			}));
			return { ...state, document: write(document, "craft.rotors", list) };
		},
	};
}
