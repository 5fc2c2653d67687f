import { axis, INK, listed, type NamedSet, type PictureHead, setLook } from "./looks.ts";
import type { Mark, Picture } from "./picture.ts";

interface NyquistCurve extends NamedSet {
	readonly re: ArrayLike<number>;
	readonly im: ArrayLike<number>;
}

export interface Nyquist extends PictureHead {
	readonly curves: readonly NyquistCurve[];
	/** The limit on the largest sensitivity: its circle about -1 has radius 1/Ms. Null for none. */
	readonly msLimit: number | null;
}

/** Open loops in the complex plane near -1, with the circle that Ms keeps them out of. */
export function nyquist(input: Nyquist): Picture {
	const marks: Mark[] = [];
	if (input.msLimit !== null) {
		const angles = Array.from({ length: 97 }, (_, k) => (k * Math.PI) / 48);
		marks.push({
			kind: "region",
			x: angles.map((a) => -1 + Math.cos(a) / input.msLimit!),
			y: angles.map((a) => Math.sin(a) / input.msLimit!),
			text: `Ms ${input.msLimit}`,
			look: INK,
		});
	}
	marks.push({ kind: "point", x: -1, y: 0, text: "\u22121", look: INK });
	return {
		title: input.title,
		description: `The open loop in the complex plane, ${listed(input.curves.map((c) => `set ${c.letter}`))}; it must not come near \u22121.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x: axis("real part", "", { range: [-2.6, 1.1] }),
				y: axis("imaginary part", "", { range: [-2, 1.4] }),
				equalScales: true,
				weight: 1,
				series: input.curves.map((c) => ({ name: c.name, x: c.re, y: c.im, look: setLook(c.letter) })),
				marks,
				field: null,
			},
		],
		legend: input.curves.map((c) => ({ text: c.name, look: setLook(c.letter) })),
	};
}
