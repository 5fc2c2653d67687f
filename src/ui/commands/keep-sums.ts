import type { MassProperties } from "../../craft/model.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Command } from "../state/model.ts";
import { write } from "./change-document.ts";

/** The parts list taken out, what it comes to kept: mass, centre of mass and inertia as numbers. */
export function keepSums({ massKg, centreOfMassM, inertiaKgM2: j }: MassProperties): Command {
	return {
		name: "take out the parts list, keep its sums",
		apply(state) {
			const inertia = [j[0], j[4], j[8], j[1], j[2], j[5]].map((each) => formatQuantity("inertia", each, 6));
			const centre = centreOfMassM.map((each) => formatQuantity("length", each, 6));
			let document = write(state.document, "craft.mass", formatQuantity("mass", massKg, 6));
			document = write(document, "craft.centreOfMass", centre);
			document = write(document, "craft.inertia", inertia);
			return { ...state, document: write(document, "craft.parts", undefined) };
		},
	};
}
