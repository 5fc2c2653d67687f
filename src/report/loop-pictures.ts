import type { LoopResponse, ScalarLoopResult } from "../analysis/scalar-loop-types.ts";
import { type BodeCurve, bode } from "../pictures/bode.ts";
import type { NamedSet, PictureHead } from "../pictures/looks.ts";
import { nyquist } from "../pictures/nyquist.ts";
import type { KeyNumber, Picture } from "../pictures/picture.ts";

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
	return { ...bode({ ...head, curves: loops.map(bodeCurve) }), numbers: marginNumbers(loops) };
}

export function nyquistPicture(
	head: PictureHead,
	loops: readonly DrawnLoop[],
	msLimit: number | null,
): Picture {
	const curves = loops.map(({ letter, name, samples: { re, im } }) => ({ letter, name, re, im }));
	return { ...nyquist({ ...head, curves, msLimit }), numbers: marginNumbers(loops) };
}

const MARGINS = [
	{ what: "phase margin", unit: "deg", factor: 1, key: "phaseMarginDeg" },
	{ what: "gain may rise by", unit: "dB", factor: 1, key: "gainMarginUpDb" },
	{ what: "gain may fall by", unit: "dB", factor: 1, key: "gainMarginDownDb" },
	{ what: "delay margin", unit: "ms", factor: 1000, key: "delayMarginSec" },
	{ what: "crossover", unit: "Hz", factor: 1 / (2 * Math.PI), key: "crossoverRadPerSec" },
	{ what: "bandwidth", unit: "Hz", factor: 1 / (2 * Math.PI), key: "bandwidthRadPerSec" },
	{ what: "largest sensitivity, Ms", unit: "", factor: 1, key: "ms" },
	{ what: "least distance to \u22121", unit: "", factor: 1, key: "stabilityRadius" },
] as const;

/** The margins as they were found, each with the frequency where it is read. */
function marginNumbers(loops: readonly DrawnLoop[]): KeyNumber[] {
	return MARGINS.flatMap(({ what, unit, factor, key }) =>
		loops.map(({ letter, result }): KeyNumber => {
			const margin = result[key];
			return {
				what,
				of: letter,
				value: margin.value === null ? null : margin.value * factor,
				unit,
				where: margin.value === null ? margin.why : `${(margin.radPerSec / (2 * Math.PI)).toFixed(2)} Hz`,
			};
		}),
	);
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
