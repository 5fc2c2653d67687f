import { linearTick } from "../control/axis-linear.ts";
import { ANSWER, axisResponse } from "../control/axis-response.ts";
import { AXES, type FixedGainSet } from "../control/spec.ts";
import { discretise } from "../linear/discretise.ts";
import { CONTINUOUS, stateSpace } from "../linear/state-space.ts";
import { eigenvalues } from "../math/eigenvalues.ts";
import { CRAFT_ANSWER_LENGTH } from "./axis-loops.ts";
import type { AxisPlant, SampledAxis } from "./axis-plant.ts";
import { axesTouch, craftAnswer } from "./craft-answer.ts";
import { type LinearCraft, OUTPUT } from "./linearise.ts";
import type { TimingChain } from "./timing-chain.ts";

/** Frequencies, in shares of pi/T, at which a held yaw is compared with one alone. */
const PROBES = Array.from({ length: 24 }, (_, i) => 0.9 * 0.002 ** (i / 23));

/**
 * Yaw as its own loop sees it while the other two loops hold roll and pitch. Alone, with those two open, a craft far off balance answers a yaw command with the wrong sign: front
 * and rear motors differ, so the command also rolls it, and the product of inertia of a limb held out turns that into yaw.
 * @param alone yaw with the couplings left out
 * @param set whose roll and pitch loops are closed; its yaw is not read
 */
export function heldYaw(
	linear: LinearCraft,
	chain: TimingChain,
	alone: AxisPlant,
	set: FixedGainSet,
): AxisPlant {
	const T = alone.periodSec;
	let made: SampledAxis | undefined;
	const sampled = (): SampledAxis => {
		made ??= closedAround(linear, chain, alone, set);
		return made;
	};
	const answer = craftAnswer(linear, chain);
	const laws = [0, 1].map((i) => axisResponse(set, AXES[i]!, T, alone.rateSpacingSec));
	const g = new Float64Array(CRAFT_ANSWER_LENGTH);
	const c = [0, 1].map(() => new Float64Array(ANSWER.length));
	const q = new Float64Array(12);
	return {
		axis: "yaw",
		periodSec: T,
		slowestClockSec: alone.slowestClockSec,
		slowestRateClockSec: alone.slowestRateClockSec,
		rateSpacingSec: alone.rateSpacingSec,
		equalClocks: alone.equalClocks,
		get sampled() {
			return sampled();
		},
		get sampledRate() {
			return sampled();
		},
		respond(omega, out) {
			answer.respond(omega, -1, g);
			// u of roll and pitch per u of yaw: (I + Q) x = -q, Q what their laws answer to each other, q to yaw, sign turned.
			for (const i of [0, 1] as const) {
				laws[i]!.respond(omega, c[i]!);
				for (const j of [0, 1, 2] as const) {
					const at = 2 * (3 * i + j);
					const [k, r] = [c[i]!, q];
					r[at] = -(k[0]! * g[at]! - k[1]! * g[at + 1]!) - (k[2]! * g[18 + at]! - k[3]! * g[19 + at]!);
					r[at + 1] = -(k[0]! * g[at + 1]! + k[1]! * g[at]!) - (k[2]! * g[19 + at]! + k[3]! * g[18 + at]!);
				}
			}
			const [ar, ai, br, bi] = [1 + q[0]!, q[1]!, q[2]!, q[3]!];
			const [cr, ci, dr, di] = [q[6]!, q[7]!, 1 + q[8]!, q[9]!];
			const [er, ei, fr, fi] = [-q[4]!, -q[5]!, -q[10]!, -q[11]!];
			const detR = ar * dr - ai * di - (br * cr - bi * ci);
			const detI = ar * di + ai * dr - (br * ci + bi * cr);
			const size = detR * detR + detI * detI;
			const rollR = er * dr - ei * di - (br * fr - bi * fi);
			const rollI = er * di + ei * dr - (br * fi + bi * fr);
			const pitchR = ar * fr - ai * fi - (cr * er - ci * ei);
			const pitchI = ar * fi + ai * fr - (cr * ei + ci * er);
			let re = g[16]!;
			let im = g[17]!;
			for (const [at, xr, xi] of [
				[12, rollR, rollI],
				[14, pitchR, pitchI],
			] as const) {
				const ur = (xr * detR + xi * detI) / size;
				const ui = (xi * detR - xr * detI) / size;
				re += g[at]! * ur - g[at + 1]! * ui;
				im += g[at]! * ui + g[at + 1]! * ur;
			}
			out[0] = re;
			out[1] = im;
			out[2] = 0;
			out[3] = 0;
			if (out.length < 6) return;
			out[4] = re;
			out[5] = im;
		},
	};
}

/** By how much of itself yaw's answer may change with roll and pitch held before it is judged so: 0.26 dB. */
export const YAW_ALONE = 0.03;

/**
 * Yaw as it is judged: with roll and pitch held by the set's loops where that makes a difference and they do hold, else alone.
 * @returns touched: that it makes a difference, whether they hold or not
 */
export function judgedYaw(
	linear: LinearCraft,
	chain: TimingChain,
	alone: AxisPlant,
	set: FixedGainSet,
): { readonly plant: AxisPlant; readonly held: boolean; readonly touched: boolean } {
	if (!axesTouch(linear)) return { plant: alone, held: false, touched: false };
	const plant = heldYaw(linear, chain, alone, set);
	const touched = yawDepends(alone, plant) >= YAW_ALONE;
	const held = touched && holds(plant);
	return { plant: held ? plant : alone, held, touched };
}

/** Nothing of roll and pitch runs away by itself: yaw's loop could not help it. */
function holds({ sampled: { a, order } }: AxisPlant): boolean {
	const { re, im } = eigenvalues(a, order);
	return re.every((r, i) => Math.hypot(r, im[i]!) <= 1 + 1e-8);
}

/** Largest relative change that holding roll and pitch makes to yaw's answer. */
export function yawDepends(alone: AxisPlant, held: AxisPlant): number {
	const [a, b] = [new Float64Array(4), new Float64Array(4)];
	let most = 0;
	for (const share of PROBES) {
		const omega = (share * Math.PI) / alone.periodSec;
		alone.respond(omega, a);
		held.respond(omega, b);
		most = Math.max(most, Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!) / Math.hypot(a[0]!, a[1]!));
	}
	return most;
}

/** The whole craft at the ticks with the laws of roll and pitch around it, delays at their mean ages. */
function closedAround(
	linear: LinearCraft,
	chain: TimingChain,
	alone: AxisPlant,
	set: FixedGainSet,
): SampledAxis {
	const T = alone.periodSec;
	const n = linear.order;
	const mean = (age: { readonly meanSec: number }): number => Math.max(0, age.meanSec);
	const [hold, gyro, attitude] = [mean(chain.holdAge), mean(chain.gyroAge), mean(chain.attitudeAge)];
	const b = new Float64Array(4 * n);
	for (let i = 0; i < n; i++) {
		for (let k = 0; k < 3; k++) b[4 * i + k] = linear.bCommand[3 * i + k]!;
		b[4 * i + 3] = linear.bTorque[3 * i + 2]!;
	}
	const rows = [0, 1, 2].map((i) => OUTPUT.gyro + i).concat(OUTPUT.angle, OUTPUT.angle + 1, OUTPUT.rate + 2);
	const c = new Float64Array(rows.length * n);
	rows.forEach((row, o) => {
		c.set(linear.c.subarray(row * n, (row + 1) * n), o * n);
	});
	const plant = discretise(
		stateSpace(CONTINUOUS, { a: linear.a, b, c }, { order: n, inputs: 4, outputs: rows.length }),
		T,
		{
			inputSec: [...linear.transportSec.map((transport) => transport + hold), 0],
			outputSec: [gyro, gyro, gyro, attitude, attitude, 0],
		},
	);
	const laws = ([0, 1] as const).map((i) => linearTick(set, AXES[i]!, T, T));
	const own = plant.order;
	const size = own + laws.reduce((sum, { order }) => sum + order, 0);
	const a = new Float64Array(size * size);
	for (let i = 0; i < own; i++) a.set(plant.a.subarray(i * own, (i + 1) * own), i * size);
	let at = own;
	laws.forEach((law, axis) => {
		// What the law reads of the craft's states: v[1] the angle, v[3] the rate.
		const angle = plant.c.subarray((3 + axis) * own, (4 + axis) * own);
		const rate = plant.c.subarray(axis * own, (axis + 1) * own);
		for (let i = 0; i < own; i++) {
			const push = plant.b[4 * i + axis]!;
			if (push === 0) continue;
			for (let j = 0; j < own; j++) a[i * size + j]! += push * (law.d[1]! * angle[j]! + law.d[3]! * rate[j]!);
			for (let j = 0; j < law.order; j++) a[i * size + at + j]! += push * law.c[j]!;
		}
		for (let i = 0; i < law.order; i++) {
			for (let j = 0; j < own; j++)
				a[(at + i) * size + j] = law.b[4 * i + 1]! * angle[j]! + law.b[4 * i + 3]! * rate[j]!;
			for (let j = 0; j < law.order; j++) a[(at + i) * size + at + j] = law.a[i * law.order + j]!;
		}
		at += law.order;
	});
	const column = (k: number): Float64Array =>
		Float64Array.from({ length: size }, (_, i) => (i < own ? plant.b[4 * i + k]! : 0));
	const row = (o: number): Float64Array =>
		Float64Array.from({ length: size }, (_, i) => (i < own ? plant.c[o * own + i]! : 0));
	return {
		order: size,
		a,
		bCommand: column(2),
		bTorque: column(3),
		cRate: row(2),
		cAngle: new Float64Array(size),
		cTrueRate: row(5),
		cTrueAngle: new Float64Array(size),
	};
}
