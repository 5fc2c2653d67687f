import { axis, DOTTED, listed, type NamedSet, type PictureHead, setLook } from "./looks.ts";
import type { Mark, Panel, Picture, SilhouetteView } from "./picture.ts";

/** One flight as the strip needs it: columns of equal length, radians and metres. */
export interface StripFlight extends NamedSet {
	readonly timeSec: ArrayLike<number>;
	readonly rollRad: ArrayLike<number>;
	readonly pitchRad: ArrayLike<number>;
	readonly yawRad: ArrayLike<number>;
	readonly rollAskedRad: ArrayLike<number>;
	readonly pitchAskedRad: ArrayLike<number>;
	readonly heightM: ArrayLike<number>;
	/** Largest command of any motor, 0..1: 0 means that no rotor is driven. */
	readonly busiestCommand: ArrayLike<number>;
}

export interface AttitudeStrip extends PictureHead {
	readonly flights: readonly StripFlight[];
	readonly views: readonly SilhouetteView[];
	/** Null: the flights' own span. */
	readonly timeRange: readonly [number, number] | null;
	readonly events: readonly { readonly timeSec: number; readonly text: string }[];
	/** How many silhouettes stand side by side. */
	readonly count: number;
	/** Rows are named in few words, for a narrow page. */
	readonly brief?: boolean;
}

const DEG = 180 / Math.PI;
const VIEW_WORDS: { readonly [V in SilhouetteView]: string } = {
	behind: "seen from behind (roll)",
	right: "seen from its right side, nose to the right (pitch)",
	above: "seen from above (heading)",
};
const BRIEF_WORDS: { readonly [V in SilhouetteView]: string } = {
	behind: "roll, from behind",
	right: "pitch, from the right",
	above: "heading, from above",
};

/** What a view turns by, and what was asked of it. */
export function anglesOf(
	flight: StripFlight,
	view: SilhouetteView,
): { readonly angle: ArrayLike<number>; readonly asked: ArrayLike<number> | null } {
	return {
		angle: { behind: flight.rollRad, right: flight.pitchRad, above: flight.yawRad }[view],
		asked: { behind: flight.rollAskedRad, right: flight.pitchAskedRad, above: null }[view],
	};
}

/** The craft's attitude at even instants along time, at its height: one row for each set and view. */
export function attitudeStrip(input: AttitudeStrip): Picture {
	const flown = input.flights.filter((flight) => flight.timeSec.length > 0);
	const range = input.timeRange ?? spanOf(flown);
	const step = (range[1] - range[0]) / Math.max(1, input.count - 1);
	const x = axis("time", "s", { range: [range[0] - 0.6 * step, range[1] + 0.6 * step] });
	const y = axis("", "", { range: heightRange(flown, range) });
	const panels = flown.flatMap((flight) =>
		input.views.map(
			(view, i): Panel => ({
				x,
				y: {
					...y,
					label: `${flight.letter ? `${flight.letter}: ` : ""}${
						input.brief ? `${BRIEF_WORDS[view]}; height` : `${VIEW_WORDS[view]}; height of its centre`
					}`,
					unit: "m",
				},
				equalScales: false,
				weight: 1,
				series: [],
				marks: [
					...silhouettes(flight, view, range, step),
					...input.events.map(
						(e): Mark => ({ kind: "vertical", x: e.timeSec, text: i === 0 ? e.text : "", look: DOTTED }),
					),
				],
				field: null,
			}),
		),
	);
	return {
		title: input.title,
		description: `The craft's attitude every ${step.toPrecision(2)} s, ${listed(input.views.map((view) => VIEW_WORDS[view]))}. The dotted line is what was asked for.`,
		note: input.note ?? "",
		invented: input.invented,
		panels,
		legend: flown.map(({ letter, name }) => ({ text: name, look: setLook(letter) })),
	};
}

function spanOf(flights: readonly StripFlight[]): readonly [number, number] {
	const ends = flights.map((flight) => flight.timeSec[flight.timeSec.length - 1]!);
	const starts = flights.map((flight) => flight.timeSec[0]!);
	const [low, high] = [Math.min(...starts), Math.max(...ends)];
	return high > low ? [low, high] : [low || 0, (low || 0) + 1];
}

/** At least a metre, so that a craft that keeps its height is not seen to jump about. */
function heightRange(
	flights: readonly StripFlight[],
	[from, to]: readonly [number, number],
): [number, number] {
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (const flight of flights)
		for (let i = 0; i < flight.heightM.length; i++) {
			if (flight.timeSec[i]! < from || flight.timeSec[i]! > to) continue;
			low = Math.min(low, flight.heightM[i]!);
			high = Math.max(high, flight.heightM[i]!);
		}
	if (!(low <= high)) return [0, 1];
	const room = Math.max(1, 1.7 * (high - low));
	const middle = (low + high) / 2;
	return [middle - room / 2, middle + room / 2];
}

function silhouettes(
	flight: StripFlight,
	view: SilhouetteView,
	[from, to]: readonly [number, number],
	step: number,
): Mark[] {
	const { angle, asked } = anglesOf(flight, view);
	const end = flight.timeSec[flight.timeSec.length - 1]!;
	const marks: Mark[] = [];
	let at = 0;
	for (let k = 0; from + k * step <= Math.min(to, end) + 1e-9; k++) {
		const time = from + k * step;
		while (at + 1 < flight.timeSec.length && flight.timeSec[at + 1]! <= time + 1e-9) at++;
		marks.push(silhouette(at));
	}
	// How it ended, where that is not an even instant.
	const last = flight.timeSec.length - 1;
	if (end < to && end - flight.timeSec[at]! > 0.45 * step) marks.push(silhouette(last));
	return marks;

	function silhouette(i: number): Mark {
		const degrees = angle[i]! * DEG;
		return {
			kind: "silhouette",
			x: flight.timeSec[i]!,
			y: flight.heightM[i]!,
			view,
			angleRad: angle[i]!,
			askedRad: asked ? asked[i]! : null,
			live: flight.busiestCommand[i]! > 0,
			text: Number.isFinite(degrees)
				? `${degrees.toFixed(0).replace("-0", "0").replace("-", "\u2212")}\u00b0`
				: "",
			look: setLook(flight.letter),
		};
	}
}
