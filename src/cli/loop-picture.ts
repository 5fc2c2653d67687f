import type { LoopResponse, ScalarLoopResult } from "../analysis/scalar-loop-types.ts";
import { type Bode, type BodeCurve, bode } from "../pictures/bode.ts";
import type { NamedSet, PictureHead } from "../pictures/looks.ts";
import { nyquist } from "../pictures/nyquist.ts";
import { pictureSvg } from "../pictures/svg.ts";

const POINTS = 600;

/** An open loop as the pictures take it. */
export interface DrawnLoop extends NamedSet {
	readonly respond: LoopResponse;
	readonly result: ScalarLoopResult;
	/** rad/s */
	readonly range: readonly [number, number];
}

export function bodeSvg(head: PictureHead, loops: readonly DrawnLoop[]): string {
	const curves: Bode["curves"] = loops.map(bodeCurve);
	return pictureSvg(bode({ ...head, curves }));
}

export function nyquistSvg(head: PictureHead, loops: readonly DrawnLoop[], msLimit: number | null): string {
	const curves = loops.map((loop) => {
		const { re, im } = sample(loop);
		return { letter: loop.letter, name: loop.name, re, im };
	});
	return pictureSvg(nyquist({ ...head, curves, msLimit }));
}

function sample({ respond, range }: DrawnLoop): { omega: Float64Array; re: Float64Array; im: Float64Array } {
	const omega = new Float64Array(POINTS);
	const re = new Float64Array(POINTS);
	const im = new Float64Array(POINTS);
	const out = new Float64Array(2);
	const ratio = Math.log(range[1] / range[0]);
	for (let i = 0; i < POINTS; i++) {
		// The last point a hair inside: at its very end a sampled loop is real and may be singular.
		omega[i] = range[0] * Math.exp((ratio * i) / (POINTS - 1)) * (i === POINTS - 1 ? 1 - 1e-9 : 1);
		respond(omega[i]!, out);
		re[i] = out[0]!;
		im[i] = out[1]!;
	}
	return { omega, re, im };
}

function bodeCurve(loop: DrawnLoop): BodeCurve {
	const { omega, re, im } = sample(loop);
	const phase = new Float64Array(POINTS);
	let turns = 0;
	for (let i = 0; i < POINTS; i++) {
		const raw = (Math.atan2(im[i]!, re[i]!) * 180) / Math.PI;
		if (i > 0) turns -= 360 * Math.round((raw + turns - phase[i - 1]!) / 360);
		phase[i] = raw + turns;
	}
	// Whole turns are chosen where it matters: at the crossover the phase is read against -180.
	const crossover = loop.result.crossoverRadPerSec.radPerSec ?? Math.sqrt(loop.range[0] * loop.range[1]);
	const at =
		phase[
			Math.max(
				0,
				omega.findIndex((w) => w >= crossover),
			)
		]!;
	const shift = -360 * Math.ceil((at - 1) / 360);
	for (let i = 0; i < POINTS; i++) phase[i]! += shift;
	const { phaseMarginDeg, gainMarginUpDb, gainMarginDownDb } = loop.result;
	const gain = gainMarginUpDb.value === null ? gainMarginDownDb : gainMarginUpDb;
	const sign = gainMarginUpDb.value === null ? -1 : 1;
	return {
		letter: loop.letter,
		name: loop.name,
		hz: omega.map((w) => w / (2 * Math.PI)),
		magnitudeDb: omega.map((_, i) => 20 * Math.log10(Math.max(1e-12, Math.hypot(re[i]!, im[i]!)))),
		phaseDeg: phase,
		phaseMargin:
			phaseMarginDeg.value === null
				? null
				: { hz: phaseMarginDeg.radPerSec / (2 * Math.PI), deg: phaseMarginDeg.value },
		gainMargin: gain.value === null ? null : { hz: gain.radPerSec / (2 * Math.PI), db: sign * gain.value },
	};
}
