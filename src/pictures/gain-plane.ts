import { axis, INK, type NamedSet, type PictureHead, setLook } from "./looks.ts";
import type { Picture } from "./picture.ts";

interface PlaneAxis {
	readonly label: string;
	readonly unit: string;
	readonly scale: "linear" | "log";
	/** Rising. */
	readonly values: ArrayLike<number>;
}

export interface GainPlane extends PictureHead {
	readonly x: PlaneAxis;
	readonly y: PlaneAxis;
	/** Row by row, y rising with the row: y.length rows of x.length. Not finite: no answer. */
	readonly values: ArrayLike<number>;
	/** What is shaded, such as 'distance of the worst corner to instability', and its unit. */
	readonly label: string;
	readonly unit: string;
	/** Value along which the stable region is outlined; null for none. */
	readonly outline: number | null;
	readonly sets: readonly (NamedSet & { readonly x: number; readonly y: number })[];
}

/** One result over two gains, shaded, the stable region outlined, the gain sets as lettered dots. */
export function gainPlane(input: GainPlane): Picture {
	const cells = input.x.values.length * input.y.values.length;
	if (input.values.length !== cells)
		throw new RangeError(`gainPlane values: ${input.values.length} entries, expected ${cells} (rows of x)`);
	const has = input.values.length > 0;
	return {
		title: input.title,
		description: `${input.label} over ${input.x.label} and ${input.y.label}${
			input.outline === null ? "" : `, outlined at ${input.outline}`
		}.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x: axis(input.x.label, input.x.unit, { scale: input.x.scale }),
				y: axis(input.y.label, input.y.unit, { scale: input.y.scale }),
				equalScales: false,
				weight: 1,
				series: [],
				marks: input.sets.map((s) => ({ kind: "point", x: s.x, y: s.y, text: "", look: setLook(s.letter) })),
				field: has
					? {
							x: input.x.values,
							y: input.y.values,
							values: input.values,
							label: input.label,
							unit: input.unit,
							outline: input.outline,
						}
					: null,
			},
		],
		legend: [
			...input.sets.map((s) => ({ text: s.name, look: setLook(s.letter) })),
			...(input.outline === null ? [] : [{ text: "edge of the stable region", look: INK }]),
		],
	};
}
