import type { PartInput } from "../../craft/input.ts";
import type { Command } from "../state/model.ts";
import { readEntry, write } from "./change-document.ts";

export type Shape = PartInput["shape"];
type Part = Readonly<Record<string, unknown>>;

/**
 * A part in another shape. What fits is kept: name, mass, places, orientation; a length as a length; a diameter as a diameter; of a box its
 * longest edge along the new axis. What is new and nothing says is left for the builder to type.
 */
export function changeShape(index: number, shape: Shape): Command {
	return {
		name: `part as a ${shape}`,
		apply(state) {
			const part = readEntry(state.document, "craft.parts", index) as Part;
			if (part["shape"] === shape) return state;
			const { shape: _, size, diameter, outerDiameter, innerDiameter: __, length, ...kept } = part;
			const edges = Array.isArray(size) ? size : [];
			const sizes = {
				length: length ?? (shape === "cylinder" ? edges[2] : edges[0]),
				across: diameter ?? outerDiameter ?? edges[1],
				edges,
			};
			const after = { ...kept, shape, ...dimensions(shape, sizes, part["shape"]) };
			return { ...state, document: write(state.document, `craft.parts[${index}]`, after) };
		},
	};
}

interface Sizes {
	readonly length: unknown;
	readonly across: unknown;
	readonly edges: readonly unknown[];
}

function dimensions(shape: Shape, { length, across }: Sizes, before: unknown): Part {
	switch (shape) {
		case "point":
			return {};
		case "rod":
			return given({ length });
		case "cylinder":
			return given({ diameter: across, length });
		case "tube":
			return given({ outerDiameter: across, innerDiameter: "0 mm", length });
		case "box": {
			// A cylinder lies along its own z, rods and tubes along their own x.
			const [x, y, z] = before === "cylinder" ? [across, across, length] : [length, across, across];
			return [x, y, z].every((edge) => edge === undefined)
				? {}
				: { size: [x, y, z].map((edge) => edge ?? null) };
		}
	}
}

const given = (part: Part): Part =>
	Object.fromEntries(Object.entries(part).filter(([, value]) => value !== undefined && value !== null));
