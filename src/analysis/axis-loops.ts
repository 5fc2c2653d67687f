import { ANSWER, axisResponse } from "../control/axis-response.ts";
import { AXES, type FixedGainSet } from "../control/spec.ts";
import type { AxisPlant } from "./axis-plant.ts";
import type { LoopResponse } from "./scalar-loop-types.ts";

/** The ways to open one axis's loop, as answers L(j omega) with negative feedback; null where there is no such loop. */
export interface AxisLoops {
	/** Gyro path opened at u, angle path open. */
	readonly rate: LoopResponse | null;
	/** Opened at the angle error, gyro path closed. */
	readonly angle: LoopResponse | null;
	/** Opened at u, both closed. */
	readonly whole: LoopResponse | null;
	/** The same answers whether or not a structure or a gain of 0 leaves the loop a name. */
	readonly all: Readonly<Record<"rate" | "angle" | "whole", LoopResponse>>;
	/** Why there is none. */
	readonly why: { readonly rate?: string; readonly angle?: string; readonly whole?: string };
}

/** Readings per u as complex answers; axes in the order roll, pitch, yaw. */
export interface CraftAnswer {
	/**
	 * out[2 (3 i + j)]: Re, Im of the gyro reading of axis i per u of axis j; from 18 on the angle readings (roll, pitch; j = 0..2).
	 * @param still the axis whose tilt and velocity are left out, -1: none
	 */
	respond(omegaRadPerSec: number, still: number, out: Float64Array): void;
}

export const CRAFT_ANSWER_LENGTH = 30;

/** Loops of one axis, the other two left out. */
export function axisLoops(plant: AxisPlant, set: FixedGainSet): AxisLoops {
	const law = axisResponse(set, plant.axis, plant.periodSec, plant.rateSpacingSec);
	const c = new Float64Array(ANSWER.length);
	const g = new Float64Array(6);
	return describe(set, plant.axis, {
		rate: (omega, out) => {
			law.respond(omega, c);
			plant.respond(omega, g);
			out[0] = -(c[0]! * g[4]! - c[1]! * g[5]!);
			out[1] = -(c[0]! * g[5]! + c[1]! * g[4]!);
		},
		whole: (omega, out) => {
			law.respond(omega, c);
			plant.respond(omega, g);
			out[0] = -(c[0]! * g[0]! - c[1]! * g[1]! + c[2]! * g[2]! - c[3]! * g[3]!);
			out[1] = -(c[0]! * g[1]! + c[1]! * g[0]! + c[2]! * g[3]! + c[3]! * g[2]!);
		},
		angle: (omega, out) => {
			law.respond(omega, c);
			plant.respond(omega, g);
			const nr = -(c[2]! * g[2]! - c[3]! * g[3]!);
			const ni = -(c[2]! * g[3]! + c[3]! * g[2]!);
			const dr = 1 - (c[0]! * g[0]! - c[1]! * g[1]!);
			const di = -(c[0]! * g[1]! + c[1]! * g[0]!);
			const size = dr * dr + di * di;
			out[0] = (nr * dr + ni * di) / size;
			out[1] = (ni * dr - nr * di) / size;
		},
	});
}

/** Loops of one axis with the other two closed, the whole craft answering. */
export function coupledLoops(
	answer: CraftAnswer,
	set: FixedGainSet,
	periodSec: number,
	rateSpacingSec: number,
): AxisLoops[] {
	const laws = AXES.map((axis) => axisResponse(set, axis, periodSec, rateSpacingSec));
	const g = new Float64Array(CRAFT_ANSWER_LENGTH);
	const c = AXES.map(() => new Float64Array(ANSWER.length));
	/** I + Q and the column it is solved for, complex; Q from u to minus what the law answers. */
	const re = new Float64Array(9);
	const im = new Float64Array(9);
	const x = new Float64Array(6);
	const fill = (omega: number, own: number, still: number, ownAngle: boolean): void => {
		answer.respond(omega, still, g);
		for (let i = 0; i < 3; i++) {
			laws[i]!.respond(omega, c[i]!);
			for (let j = 0; j < 3; j++) {
				const [qr, qi] = feedback(g, c[i]!, i, j, i !== own || ownAngle);
				re[3 * i + j] = qr + (i === j ? 1 : 0);
				im[3 * i + j] = qi;
			}
		}
	};
	/** L at u of `own`: its row less what the other two closed loops do about it. */
	const atU = (own: number, out: Float64Array): void => {
		// 1 + L = 1 / [(I + Q)^-1]_own,own.
		x.fill(0);
		x[2 * own] = 1;
		solve3(re, im, x);
		const [r, i] = [x[2 * own]!, x[2 * own + 1]!];
		const size = r * r + i * i;
		out[0] = r / size - 1;
		out[1] = -i / size;
	};
	return AXES.map((axis, own) =>
		describe(set, axis, {
			rate: (omega, out) => {
				fill(omega, own, own, false);
				atU(own, out);
			},
			whole: (omega, out) => {
				fill(omega, own, -1, true);
				atU(own, out);
			},
			angle: (omega, out) => {
				fill(omega, own, -1, false);
				x.fill(0);
				x[2 * own] = 1;
				solve3(re, im, x);
				let ar = 0;
				let ai = 0;
				for (let j = 0; j < 3; j++) {
					const at = 18 + 2 * (3 * own + j);
					ar += g[at]! * x[2 * j]! - g[at + 1]! * x[2 * j + 1]!;
					ai += g[at]! * x[2 * j + 1]! + g[at + 1]! * x[2 * j]!;
				}
				const k = c[own]!;
				out[0] = -(k[2]! * ar - k[3]! * ai);
				out[1] = -(k[2]! * ai + k[3]! * ar);
			},
		}),
	);
}

/** The 3 x 3 loop at u, Q: 9 complex numbers, row i is what the law of axis i answers to u of axis j, sign turned. */
export function loopMatrix(
	answer: CraftAnswer,
	set: FixedGainSet,
	periodSec: number,
	rateSpacingSec: number,
) {
	const laws = AXES.map((axis) => axisResponse(set, axis, periodSec, rateSpacingSec));
	const g = new Float64Array(CRAFT_ANSWER_LENGTH);
	const c = new Float64Array(ANSWER.length);
	return (omega: number, out: Float64Array): void => {
		answer.respond(omega, -1, g);
		for (let i = 0; i < 3; i++) {
			laws[i]!.respond(omega, c);
			for (let j = 0; j < 3; j++) {
				const [qr, qi] = feedback(g, c, i, j, true);
				out[2 * (3 * i + j)] = qr;
				out[2 * (3 * i + j) + 1] = qi;
			}
		}
	};
}

function feedback(g: Float64Array, c: Float64Array, i: number, j: number, angle: boolean): [number, number] {
	const at = 2 * (3 * i + j);
	let qr = -(c[0]! * g[at]! - c[1]! * g[at + 1]!);
	let qi = -(c[0]! * g[at + 1]! + c[1]! * g[at]!);
	if (angle && i < 2) {
		qr -= c[2]! * g[18 + at]! - c[3]! * g[19 + at]!;
		qi -= c[2]! * g[19 + at]! + c[3]! * g[18 + at]!;
	}
	return [qr, qi];
}

/** Complex 3 x 3 by Gaussian elimination with pivoting; re and im are used up, x becomes the solution. */
function solve3(re: Float64Array, im: Float64Array, x: Float64Array): void {
	for (let k = 0; k < 3; k++) {
		let p = k;
		for (let i = k + 1; i < 3; i++)
			if (Math.hypot(re[3 * i + k]!, im[3 * i + k]!) > Math.hypot(re[3 * p + k]!, im[3 * p + k]!)) p = i;
		if (p !== k) {
			for (const [list, wide] of [
				[re, 3],
				[im, 3],
				[x, 2],
			] as const)
				for (let j = 0; j < wide; j++) {
					const kept = list[wide * k + j]!;
					list[wide * k + j] = list[wide * p + j]!;
					list[wide * p + j] = kept;
				}
		}
		const [pr, pi] = [re[4 * k]!, im[4 * k]!];
		const size = pr * pr + pi * pi;
		for (let i = 0; i < 3; i++) {
			if (i === k) continue;
			const [ar, ai] = [re[3 * i + k]!, im[3 * i + k]!];
			const fr = (ar * pr + ai * pi) / size;
			const fi = (ai * pr - ar * pi) / size;
			for (let j = k; j < 3; j++) {
				const [br, bi] = [re[3 * k + j]!, im[3 * k + j]!];
				re[3 * i + j]! -= fr * br - fi * bi;
				im[3 * i + j]! -= fr * bi + fi * br;
			}
			const [br, bi] = [x[2 * k]!, x[2 * k + 1]!];
			x[2 * i]! -= fr * br - fi * bi;
			x[2 * i + 1]! -= fr * bi + fi * br;
		}
	}
	for (let k = 0; k < 3; k++) {
		const [pr, pi] = [re[4 * k]!, im[4 * k]!];
		const size = pr * pr + pi * pi;
		const [br, bi] = [x[2 * k]!, x[2 * k + 1]!];
		x[2 * k] = (br * pr + bi * pi) / size;
		x[2 * k + 1] = (bi * pr - br * pi) / size;
	}
}

type AllLoops = Record<"rate" | "angle" | "whole", LoopResponse>;

/** Leaves out the loops that a structure does not have. */
function describe(set: FixedGainSet, axis: (typeof AXES)[number], all: AllLoops): AxisLoops {
	const gains = set[axis];
	const noAngle =
		axis === "yaw"
			? "yaw holds a rate, it has no angle loop"
			: set.structure === "rateOnly"
				? "rate-only use has no angle loop"
				: null;
	if (noAngle)
		return { rate: all.rate, angle: null, whole: null, all, why: { angle: noAngle, whole: noAngle } };
	if (set.structure === "anglePid" && gains.kd === 0)
		return {
			...all,
			rate: null,
			all,
			why: { rate: "a single angle PID with kd = 0 has no path from the gyro" },
		};
	if (set.structure === "cascade" && gains.kAngle === 0 && gains.kAngleI === 0)
		return {
			rate: all.rate,
			angle: null,
			whole: null,
			all,
			why: { angle: "k_angle is 0: the angle loop is open", whole: "k_angle is 0: the angle loop is open" },
		};
	return { ...all, all, why: {} };
}
