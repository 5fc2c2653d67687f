import type { LoopResponse, ScalarLoopResult } from "../analysis/scalar-loop-types.ts";
import { type BodeCurve, bode } from "../pictures/bode.ts";
import type { NamedSet, PictureHead } from "../pictures/looks.ts";
import { nyquist } from "../pictures/nyquist.ts";
import type { Picture } from "../pictures/picture.ts";

const POINTS = 600;

/** L at rising frequencies. */
export interface LoopSamples {
	readonly omega: Float64Array;
	readonly re: Float64Array;
	readonly im: Float64Array;
}

/** An open loop as the pictures take it. */
export interface DrawnLoop extends NamedSet {
	readonly samples: LoopSamples;
	readonly result: ScalarLoopResult;
}

export function bodePicture(head: PictureHead, loops: readonly DrawnLoop[]): Picture {
	return bode({ ...head, curves: loops.map(bodeCurve) });
}

export function nyquistPicture(
	head: PictureHead,
	loops: readonly DrawnLoop[],
	msLimit: number | null,
): Picture {
	const curves = loops.map(({ letter, name, samples: { re, im } }) => ({ letter, name, re, im }));
	return nyquist({ ...head, curves, msLimit });
}

/** @param range rad/s */
export function sampleLoop(respond: LoopResponse, range: readonly [number, number]): LoopSamples {
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
	const { omega, re, im } = loop.samples;
	const n = omega.length;
	const phase = new Float64Array(n);
	let turns = 0;
	for (let i = 0; i < n; i++) {
		const raw = (Math.atan2(im[i]!, re[i]!) * 180) / Math.PI;
		if (i > 0) turns -= 360 * Math.round((raw + turns - phase[i - 1]!) / 360);
		phase[i] = raw + turns;
	}
	// Whole turns are chosen where it matters: at the crossover the phase is read against -180.
	const crossover = loop.result.crossoverRadPerSec.radPerSec ?? Math.sqrt(omega[0]! * omega[n - 1]!);
	const at =
		phase[
			Math.max(
				0,
				omega.findIndex((w) => w >= crossover),
			)
		]!;
	const shift = -360 * Math.ceil((at - 1) / 360);
	for (let i = 0; i < n; i++) phase[i]! += shift;
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
