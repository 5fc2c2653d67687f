import type { PartInput } from "../../craft/input.ts";
import { formatQuantity } from "../../units/format.ts";
import type { KindName } from "../../units/kinds.ts";
import type { Command } from "../state/model.ts";
import { write } from "./change-document.ts";

const number = (kind: KindName, value: number): string | number =>
	Math.abs(value) < 1e-9 ? 0 : formatQuantity(kind, value, 5);
const triple = (kind: KindName, value: readonly number[]) => value.map((each) => number(kind, each));

/** A parts list begun with these parts; the mass is then theirs, as are centre of mass and inertia. */
export function beginParts(parts: readonly PartInput[]): Command {
	return {
		name: "begin a parts list",
		apply(state) {
			let { document } = state;
			for (const path of ["craft.mass", "craft.centreOfMass", "craft.inertia"])
				document = write(document, path, undefined);
			return { ...state, document: write(document, "craft.parts", parts.map(written)) };
		},
	};
}

/** A part as a document has it: numbers with the units that people read them in. */
function written(part: PartInput): object {
	const { name, shape, mass, position, orientation, at } = part;
	const lengths = Object.entries(part).filter(([key]) => /^(length|.*[dD]iameter)$/.test(key));
	return {
		name,
		shape,
		mass: number("mass", mass),
		...(part.shape === "box" && { size: triple("length", part.size) }),
		...Object.fromEntries(lengths.map(([key, value]) => [key, number("length", value as number)])),
		...(position && { position: triple("length", position) }),
		...(orientation && { orientation: triple("angle", orientation) }),
		...(at && { at: at.map((place) => triple("length", place)) }),
	};
}
