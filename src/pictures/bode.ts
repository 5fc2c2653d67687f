import { axis, DOTTED, listed, type NamedSet, type PictureHead, setLook, signed } from "./looks.ts";
import type { Mark, Picture } from "./picture.ts";

export interface BodeCurve extends NamedSet {
	readonly hz: ArrayLike<number>;
	readonly magnitudeDb: ArrayLike<number>;
	/** Unwrapped. */
	readonly phaseDeg: ArrayLike<number>;
	/** The margin that counts; null where there is no crossing. */
	readonly phaseMargin: { readonly hz: number; readonly deg: number } | null;
	/** Positive: the gain may rise by so much; negative: it may fall. */
	readonly gainMargin: { readonly hz: number; readonly db: number } | null;
}

export interface Bode extends PictureHead {
	readonly curves: readonly BodeCurve[];
}

/** Magnitude and phase of open loops, with each margin drawn where it is read. */
export function bode(input: Bode): Picture {
	const x = axis("frequency", "Hz", { scale: "log" });
	const gainMarks = input.curves.flatMap((c): Mark[] =>
		c.gainMargin
			? [
					{
						kind: "span",
						from: [c.gainMargin.hz, 0],
						to: [c.gainMargin.hz, -c.gainMargin.db],
						text: `${c.letter} ${signed(c.gainMargin.db, 1)} dB`,
						look: setLook(c.letter),
					},
				]
			: [],
	);
	const phaseMarks = input.curves.flatMap((c): Mark[] => {
		if (!c.phaseMargin) return [];
		const at = phaseAt(c, c.phaseMargin.hz);
		// The odd multiple of 180 degrees that the curve stands off from.
		const line = 360 * Math.round((at + 180) / 360) - 180;
		return [
			{
				kind: "span",
				from: [c.phaseMargin.hz, at],
				to: [c.phaseMargin.hz, line],
				text: `${c.letter} ${signed(c.phaseMargin.deg, 0)} deg`,
				look: setLook(c.letter),
			},
		];
	});
	const level = (y: number, text: string): Mark => ({ kind: "horizontal", y, text, look: DOTTED });
	const sides = (which: "magnitudeDb" | "phaseDeg") =>
		input.curves.map((c) => ({ name: c.name, x: c.hz, y: c[which], look: setLook(c.letter) }));
	return {
		title: input.title,
		description: `Magnitude and phase of the open loop over frequency, ${listed(
			input.curves.map(
				(c) =>
					`set ${c.letter}: ${c.phaseMargin ? `phase margin ${signed(c.phaseMargin.deg, 0)} deg` : "no gain crossing"}, ${
						c.gainMargin ? `gain margin ${signed(c.gainMargin.db, 1)} dB` : "no phase crossing"
					}`,
			),
		)}.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x,
				y: axis("magnitude", "dB", { tickStep: 20 }),
				equalScales: false,
				weight: 1,
				series: sides("magnitudeDb"),
				marks: [level(0, ""), ...gainMarks],
				field: null,
			},
			{
				x,
				y: axis("phase", "deg", { tickStep: 90 }),
				equalScales: false,
				weight: 1,
				series: sides("phaseDeg"),
				marks: [level(-180, ""), ...phaseMarks],
				field: null,
			},
		],
		legend: input.curves.map((c) => ({ text: c.name, look: setLook(c.letter) })),
	};
}

/** Phase between the curve's points, linear in the logarithm of frequency; beyond its ends the end's. */
function phaseAt(curve: BodeCurve, hz: number): number {
	const n = curve.hz.length;
	let i = 1;
	while (i < n - 1 && curve.hz[i]! < hz) i++;
	if (n < 2) return curve.phaseDeg[0] ?? -180;
	const share = Math.log(hz / curve.hz[i - 1]!) / Math.log(curve.hz[i]! / curve.hz[i - 1]!);
	const held = Math.max(0, Math.min(1, share));
	return curve.phaseDeg[i - 1]! + held * (curve.phaseDeg[i]! - curve.phaseDeg[i - 1]!);
}
