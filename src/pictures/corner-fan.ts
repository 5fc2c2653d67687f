import { axis, DOTTED, faintLook, INK, type NamedSet, type PictureHead, setLook } from "./looks.ts";
import type { LegendEntry, Picture, Series } from "./picture.ts";

export interface CornerFan extends PictureHead {
	readonly label: string;
	readonly unit: string;
	readonly set: NamedSet;
	readonly timeSec: ArrayLike<number>;
	readonly nominal: ArrayLike<number>;
	readonly setPoint: ArrayLike<number> | null;
	/** Each over the same times. */
	readonly corners: readonly { readonly name: string; readonly values: ArrayLike<number> }[];
	/** Index of the worst one in `corners`; null for none. */
	readonly worst: number | null;
}

/** The same as one faint band from least to most instead of a line per corner, the worst one drawn and named. */
export function cornerBand(input: CornerFan): Picture {
	const picture = cornerFan(input);
	const { letter } = input.set;
	const { low, high } = extremes(input);
	const n = low.length;
	const panel = picture.panels[0]!;
	const from = Array.from({ length: n }, (_, i) => input.timeSec[i]!);
	return {
		...picture,
		panels: [
			{
				...panel,
				series: panel.series.filter((series) => series.look.weight !== "faint"),
				marks: [
					{
						kind: "region",
						x: [...from, ...from.toReversed()],
						y: [...high, ...low.toReversed()],
						text: "",
						look: faintLook(letter),
					},
				],
			},
		],
		legend: picture.legend.map((entry) =>
			entry.look.weight === "faint" ? { ...entry, text: `band of ${entry.text}` } : entry,
		),
	};
}

/** Least and most of all corners and the nominal answer; a corner whose flight ended early counts as long as it flew. */
function extremes({ nominal, corners }: CornerFan): { readonly low: number[]; readonly high: number[] } {
	const low = Array.from(nominal);
	const high = Array.from(nominal);
	for (const { values } of corners)
		for (let i = 0; i < Math.min(values.length, low.length); i++) {
			low[i] = Math.min(low[i]!, values[i]!);
			high[i] = Math.max(high[i]!, values[i]!);
		}
	return { low, high };
}

/** One gain set in every corner: the nominal answer strong, the corners faint, the worst one named. */
export function cornerFan(input: CornerFan): Picture {
	const { letter } = input.set;
	const x = input.timeSec;
	const worst = input.worst === null ? null : (input.corners[input.worst] ?? null);
	const series: Series[] = input.corners.map((c) => ({
		name: c.name,
		x,
		y: c.values,
		look: faintLook(letter),
	}));
	if (input.setPoint) series.push({ name: "asked for", x, y: input.setPoint, look: DOTTED });
	if (worst) series.push({ name: `worst: ${worst.name}`, x, y: worst.values, look: INK });
	series.push({ name: input.set.name, x, y: input.nominal, look: setLook(letter) });
	const legend: LegendEntry[] = [
		{ text: input.set.name, look: setLook(letter) },
		{ text: `${input.corners.length} corners`, look: faintLook(letter) },
	];
	if (worst) legend.push({ text: `furthest: ${worst.name}`, look: INK });
	if (input.setPoint) legend.push({ text: "asked for", look: DOTTED });
	return {
		title: input.title,
		description: `${input.label} with set ${letter} in ${input.corners.length} corners${worst ? `; the worst is ${worst.name}` : ""}.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x: axis("time", "s"),
				y: axis(input.label, input.unit),
				equalScales: false,
				weight: 1,
				series,
				marks: [],
				field: null,
			},
		],
		legend,
	};
}
