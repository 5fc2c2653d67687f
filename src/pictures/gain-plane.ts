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
	/** Per cell 1 stable, 0 not: where given, the stable region is outlined by these and `outline` is not needed. */
	readonly stable?: ArrayLike<number>;
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
			input.stable
				? ", the stable region outlined"
				: input.outline === null
					? ""
					: `, outlined at ${input.outline}`
		}.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x: axis(input.x.label, input.x.unit, { scale: input.x.scale, range: ends(input.x.values) }),
				y: axis(input.y.label, input.y.unit, { scale: input.y.scale, range: ends(input.y.values) }),
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
							outline: input.stable ? 0.5 : input.outline,
							...(input.stable ? { edge: input.stable } : {}),
						}
					: null,
			},
		],
		legend: [
			...input.sets.map((s) => ({ text: s.name, look: setLook(s.letter) })),
			...(input.outline === null && !input.stable ? [] : [{ text: "edge of the stable region", look: INK }]),
		],
	};
}

/** From the first cell's middle to the last one's; null where there is no such stretch. */
function ends(values: ArrayLike<number>): readonly [number, number] | null {
	const [low, high] = [values[0], values[values.length - 1]];
	return low !== undefined && high !== undefined && high > low ? [low, high] : null;
}
