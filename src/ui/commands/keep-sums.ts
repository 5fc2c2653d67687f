import type { Craft, MassProperties } from "../../craft/model.ts";
import { formatQuantity } from "../../units/format.ts";
import type { Command, ScenarioDocument } from "../state/model.ts";
import { read, write } from "./change-document.ts";

/** The parts list taken out, what it comes to kept as numbers: mass, centre of mass and inertia of the craft and of the limb's links. */
export function keepSums({ bare, limb }: Craft): Command {
	return {
		name: "take out the parts list, keep its sums",
		apply(state) {
			let document = withSums(state.document, "craft", bare);
			limb?.links.forEach(({ mass }, i) => {
				const link = `craft.limb.links[${i}]`;
				if (read(document, `${link}.parts`) === undefined) return;
				document = withSums(write(document, `${link}.parts`, undefined), link, mass);
			});
			return { ...state, document: write(document, "craft.parts", undefined) };
		},
	};
}

function withSums(document: ScenarioDocument, path: string, body: MassProperties): ScenarioDocument {
	const j = body.inertiaKgM2;
	const inertia = [j[0], j[4], j[8], j[1], j[2], j[5]].map((each) => formatQuantity("inertia", each, 6));
	const centre = body.centreOfMassM.map((each) => formatQuantity("length", each, 6));
	const weighed = write(document, `${path}.mass`, formatQuantity("mass", body.massKg, 6));
	return write(write(weighed, `${path}.centreOfMass`, centre), `${path}.inertia`, inertia);
}
