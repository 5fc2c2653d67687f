import { axis, DOTTED, listed, type NamedSet, type PictureHead, setLook } from "./looks.ts";
import type { LegendEntry, Look, Mark, Picture, Series } from "./picture.ts";

/** One signal; `letter` '' for what belongs to no gain set (a set-point, a disturbance), drawn dotted. */
export interface TraceLine extends NamedSet {
	/** In place of the look that follows from the letter. */
	readonly look?: Look;
	readonly timeSec: ArrayLike<number>;
	readonly values: ArrayLike<number>;
}

export interface TracePanel {
	readonly label: string;
	readonly unit: string;
	readonly lines: readonly TraceLine[];
	/** Values worth a line across, such as the ends of a travel; always in sight. */
	readonly limits?: readonly { readonly value: number; readonly text: string }[];
}

export interface TimeTraces extends PictureHead {
	readonly panels: readonly TracePanel[];
	/** Instants worth a line through every panel, such as a gust or the end of a flight. */
	readonly events: readonly { readonly timeSec: number; readonly text: string }[];
}

/** Signals of a flight over one time axis, a panel for each kind. */
export function timeTraces(input: TimeTraces): Picture {
	const all = input.panels.flatMap((p) => p.lines);
	const x = axis("time", "s", { range: timeRange(all) });
	const looks = (line: TraceLine) => line.look ?? (line.letter === "" ? DOTTED : setLook(line.letter));
	const legend = new Map<string, LegendEntry>();
	for (const line of all) legend.set(`${line.letter} ${line.name}`, { text: line.name, look: looks(line) });
	return {
		title: input.title,
		description: `${listed(input.panels.map((p) => p.label))} over time.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: input.panels.map((panel, i) => ({
			x,
			y: axis(panel.label, panel.unit),
			equalScales: false,
			weight: 1,
			series: panel.lines.map(
				(line): Series => ({ name: line.name, x: line.timeSec, y: line.values, look: looks(line) }),
			),
			marks: [
				...(panel.limits ?? []).map(
					({ value, text }): Mark => ({ kind: "horizontal", y: value, text, look: DOTTED }),
				),
				...input.events.map(
					(e): Mark => ({ kind: "vertical", x: e.timeSec, text: i === 0 ? e.text : "", look: DOTTED }),
				),
			],
			field: null,
		})),
		legend: [...legend.values()],
	};
}

function timeRange(lines: readonly TraceLine[]): readonly [number, number] | null {
	const times = lines.filter((l) => l.timeSec.length > 0);
	if (times.length === 0) return null;
	const low = Math.min(...times.map((l) => l.timeSec[0]!));
	const high = Math.max(...times.map((l) => l.timeSec[l.timeSec.length - 1]!));
	return high > low ? [low, high] : null;
}
