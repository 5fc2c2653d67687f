import { axis, DOTTED, listed, type NamedSet, type PictureHead, setLook } from "./looks.ts";
import type { Picture } from "./picture.ts";

interface StepCurve extends NamedSet {
	readonly timeSec: ArrayLike<number>;
	readonly values: ArrayLike<number>;
}

export interface StepOverlay extends PictureHead {
	/** What is drawn, such as 'roll angle', and its unit. */
	readonly label: string;
	readonly unit: string;
	readonly curves: readonly StepCurve[];
	/** What was asked for; null where nothing was. */
	readonly setPoint: { readonly timeSec: ArrayLike<number>; readonly values: ArrayLike<number> } | null;
}

/** Several gain sets' answers to one step or push, one over the other. */
export function stepOverlay(input: StepOverlay): Picture {
	const asked = input.setPoint
		? [{ name: "asked for", x: input.setPoint.timeSec, y: input.setPoint.values, look: DOTTED }]
		: [];
	return {
		title: input.title,
		description: `${input.label} over time with ${listed(input.curves.map((c) => `set ${c.letter}`))}.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x: axis("time", "s"),
				y: axis(input.label, input.unit),
				equalScales: false,
				weight: 1,
				series: [
					...asked,
					...input.curves.map((c) => ({ name: c.name, x: c.timeSec, y: c.values, look: setLook(c.letter) })),
				],
				marks: [],
				field: null,
			},
		],
		legend: [
			...input.curves.map((c) => ({ text: c.name, look: setLook(c.letter) })),
			...asked.map((a) => ({ text: a.name, look: a.look })),
		],
	};
}
