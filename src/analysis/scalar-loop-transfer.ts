import { closeLoop } from "../linear/connect.ts";
import { discretise } from "../linear/discretise.ts";
import { createResponder } from "../linear/frequency-response.ts";
import { CONTINUOUS, type Sampled, type StateSpace, sampled } from "../linear/state-space.ts";
import {
	respond,
	type TransferFunction,
	toStateSpace,
	transferFunction,
} from "../linear/transfer-function.ts";
import { eigenvalues } from "../math/eigenvalues.ts";
import * as polynomial from "../math/polynomial.ts";
import { type DiskMargin, diskMargin } from "./disk-margin.ts";
import { analyseScalarLoop } from "./scalar-loop.ts";
import { countRightPoles } from "./scalar-loop-encirclement.ts";
import { scanLoop } from "./scalar-loop-grid.ts";
import type { ScalarLoop, ScalarLoopResult } from "./scalar-loop-types.ts";

export interface TransferLoop {
	/** Falling powers of s, or of z with `discrete`. */
	readonly num: readonly number[];
	readonly den: readonly number[];
	/** Seconds; with `discrete` a whole number of sample times. */
	readonly delaySec?: number;
	readonly sampleTimeSec?: number;
	/** 'zoh': num/den is a plant in s behind a zero-order hold, sampled. */
	readonly hold?: "zoh" | "none";
	/** num/den is in z already. */
	readonly discrete?: boolean;
}

export interface TransferLoopResult extends ScalarLoopResult {
	/** Balanced (sigma 0); null when unstable. */
	readonly diskMargin: DiskMargin | null;
	/** Given for a sampled loop. */
	readonly periodSec: number | null;
}

/**
 * The textbook check of one loop under unity negative feedback.
 * @throws RangeError naming the argument, its value and what was expected.
 */
export function analyseLoopFromTransferFunction(input: TransferLoop): TransferLoopResult {
	const loop = describeTransferLoop(input);
	const result = analyseScalarLoop(loop);
	return {
		...result,
		diskMargin: result.stable ? balancedDisk(loop) : null,
		periodSec: loop.periodSec ?? null,
	};
}

/** Response, range, hints and closed-loop stability of such a loop. */
export function describeTransferLoop(input: TransferLoop): ScalarLoop {
	const { sampleTimeSec, hold = "none", discrete = false, delaySec = 0 } = input;
	if (discrete && hold === "zoh")
		throw new RangeError(
			"loop: hold zoh with discrete, expected one of them (a function of z is held already)",
		);
	if ((discrete || hold === "zoh") && sampleTimeSec === undefined)
		throw new RangeError("loop: no sample time, expected one with discrete or hold zoh");
	if (sampleTimeSec !== undefined && !discrete && hold !== "zoh")
		throw new RangeError(
			`loop: sample time ${sampleTimeSec} s without hold or discrete, expected hold zoh for a plant in s or discrete for a function of z`,
		);
	if (sampleTimeSec === undefined)
		return continuousLoop(transferFunction(CONTINUOUS, input.num, input.den, delaySec));
	const base = sampled(sampleTimeSec);
	if (discrete) return sampledLoop(toStateSpace(transferFunction(base, input.num, input.den, delaySec)));
	const plant = toStateSpace(transferFunction(CONTINUOUS, input.num, input.den));
	return sampledLoop(discretise(plant, sampleTimeSec, { inputSec: delaySec }));
}

function balancedDisk(loop: ScalarLoop): DiskMargin {
	const out = new Float64Array(2);
	const grid = scanLoop(loop);
	return diskMargin(
		(w, re, im) => {
			loop.respond(w, out);
			const x = 1 + out[0]!;
			const y = out[1]!;
			re[0] = x / (x * x + y * y);
			im[0] = -y / (x * x + y * y);
		},
		1,
		grid.omega,
		0,
		{
			zero:
				typeof loop.atZero === "number" ? 1 / (1 + loop.atZero) : loop.atZero === "infinite" ? 0 : undefined,
			infinity: loop.periodSec === undefined ? 1 / (1 + (loop.atInfinity ?? 0)) : undefined,
		},
	);
}

function continuousLoop(tf: TransferFunction): ScalarLoop {
	const { num, den, delaySec } = tf;
	const poles = polynomial.roots(den);
	const zeros = polynomial.roots(num);
	const closed = polynomial.roots(polynomial.add(den, num));
	const corners = [...poles, ...zeros, ...closed].map((p) => Math.hypot(p.re, p.im)).filter((w) => w > 0);
	const last = (p: readonly number[]): number => p[p.length - 1] ?? 0;
	const low = 1e-4 * Math.min(1e6, ...(corners.length > 0 ? corners : [1]), 1 / Math.max(delaySec, 1e-9));
	let high = 1e4 * Math.max(1e-6, ...(corners.length > 0 ? corners : [1]));
	// Phase crossings never end with a delay: past the last corner each one's gain margin is larger than the one before.
	if (delaySec > 0) high = Math.max(10 * Math.max(0, ...corners), (6 * Math.PI) / delaySec);
	const fall = den.length - num.length;
	return {
		respond: (w, out) => respond(tf, w, out),
		lowestRadPerSec: low,
		highestRadPerSec: high,
		delaySec,
		...continuousStability(tf),
		atZero: last(den) === 0 ? (last(num) === 0 ? undefined : "infinite") : last(num) / last(den),
		atInfinity: num.length > 0 && fall === 0 && delaySec === 0 ? num[0]! / den[0]! : undefined,
		hintsRadPerSec: [...new Set(corners)],
	};
}

function continuousStability({ num, den, delaySec }: TransferFunction): {
	stable: boolean;
	whyUnstable?: string;
} {
	if (delaySec > 0) {
		const right = countRightPoles(num, den, delaySec);
		if (right.kind === "infinite")
			return unstable(
				"|L| is 1 or more at infinite frequency with a delay: endlessly many poles to the right",
			);
		if (right.kind === "marginal")
			return unstable(`a closed-loop pole on the axis at ${right.radPerSec} rad/s`);
		return right.count === 0
			? { stable: true }
			: unstable(`${polesAre(right.count)} in the right half plane`);
	}
	const characteristic = polynomial.add(den, num);
	if (Math.abs(characteristic[0] ?? 0) <= 1e-13 * Math.abs(den[0]!))
		return unstable("1 + L is 0 at infinite frequency: the loop is not well posed");
	const closed = polynomial.roots(characteristic);
	const scale = Math.max(1e-300, ...closed.map((p) => Math.hypot(p.re, p.im)));
	const right = closed.filter((p) => p.re > 1e-10 * scale);
	if (right.length > 0) return unstable(`${polesAre(right.length)} in the right half plane`);
	const axis = closed.find((p) => p.re > -1e-12 * scale);
	return axis === undefined
		? { stable: true }
		: unstable(`a closed-loop pole on the axis at ${Math.abs(axis.im)} rad/s`);
}

const polesAre = (count: number): string => `${count} closed-loop pole${count === 1 ? "" : "s"}`;

const unstable = (whyUnstable: string): { stable: false; whyUnstable: string } => ({
	stable: false,
	whyUnstable,
});

function sampledLoop(open: StateSpace<Sampled>): ScalarLoop {
	const { periodSec } = open.timeBase;
	const high = Math.PI / periodSec;
	const responder = createResponder(open);
	const poles = eigenvalues(open.a, open.order);
	const wellPosed = Math.abs(1 + open.d[0]!) > 1e-13;
	const closed = wellPosed ? closeLoop(open) : null;
	const values = closed === null ? { re: [Infinity], im: [0] } : eigenvalues(closed.a, open.order);
	const sizes = Array.from(values.re, (v, i) => Math.hypot(v, values.im[i]!));
	const largest = Math.max(0, ...sizes);
	const hints = [poles, values].flatMap(({ re, im }) =>
		Array.from(re, (v, i) => Math.hypot(Math.log(Math.hypot(v, im[i]!)), Math.atan2(im[i]!, v)) / periodSec),
	);
	const turning = [poles, values].flatMap(({ re, im }) =>
		Array.from(re, (v, i) => Math.abs(Math.atan2(im[i]!, v)) / periodSec),
	);
	const usable = [...hints, ...turning].filter((w) => w > 1e-9 * high && w < high);
	const outside = sizes.filter((s) => s > 1 + 1e-10).length;
	let stability: { stable: boolean; whyUnstable?: string } = { stable: true };
	if (!wellPosed) stability = unstable("1 + L has no answer within a sample: the loop is not well posed");
	else if (outside > 0) stability = unstable(`${polesAre(outside)} outside the unit circle`);
	else if (largest > 1 - 1e-12) stability = unstable("a closed-loop pole on the unit circle");
	const out = new Float64Array(2);
	responder(0, out);
	const integrates = poles.re.some((v, i) => Math.hypot(v - 1, poles.im[i]!) < 1e-7);
	return {
		respond: responder,
		lowestRadPerSec: 1e-3 * Math.min(high, ...(usable.length > 0 ? usable : [high])),
		highestRadPerSec: high,
		periodSec,
		...stability,
		atZero: integrates ? "infinite" : Number.isFinite(out[0]!) ? out[0]! : "infinite",
		hintsRadPerSec: [...new Set(usable)],
	};
}
