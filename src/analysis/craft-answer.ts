import { discretise } from "../linear/discretise.ts";
import { createResponder } from "../linear/frequency-response.ts";
import { CONTINUOUS, stateSpace } from "../linear/state-space.ts";
import type { AgePattern } from "./age-pattern.ts";
import { CRAFT_ANSWER_LENGTH, type CraftAnswer } from "./axis-loops.ts";
import { type AxisIndex, statesWithout } from "./lifted.ts";
import { type LinearCraft, OUTPUT } from "./linearise.ts";
import type { TimingChain } from "./timing-chain.ts";

const MOST_KEPT = 4096;

/** The whole craft from u (3) to gyro (3) and angle readings (2) at the ticks, all couplings in. */
export function craftAnswer(linear: LinearCraft, chain: TimingChain): CraftAnswer {
	const responders: ReturnType<typeof responder>[] = [];
	return {
		respond(omega, still, out) {
			// Yaw has no tilt of its own.
			const own = still === 2 ? -1 : still;
			responders[own + 1] ??= responder(linear, chain, own);
			responders[own + 1]!(omega, out);
		},
	};
}

function responder(linear: LinearCraft, chain: TimingChain, still: number) {
	const T = 1e-6 * chain.tickUs;
	const states = statesWithout(linear, still >= 0 ? [still as AxisIndex] : []);
	const n = states.length;
	const rows = [0, 1, 2].map((i) => OUTPUT.gyro + i).concat([0, 1].map((i) => OUTPUT.angle + i));
	const a = new Float64Array(n * n);
	const b = new Float64Array(3 * n);
	const c = new Float64Array(5 * n);
	states.forEach((from, i) => {
		states.forEach((to, j) => {
			a[i * n + j] = linear.a[from * linear.order + to]!;
		});
		for (let k = 0; k < 3; k++) b[3 * i + k] = linear.bCommand[3 * from + k]!;
		rows.forEach((row, o) => {
			c[o * n + i] = linear.c[row * linear.order + from]!;
		});
	});
	const { holdAge, gyroAge, attitudeAge } = chain;
	const exact = (age: AgePattern): number => (age.constant ? age.meanSec : 0);
	const g = exact(gyroAge);
	const t = exact(attitudeAge);
	const sampled = discretise(stateSpace(CONTINUOUS, { a, b, c }, { order: n, inputs: 3, outputs: 5 }), T, {
		inputSec: linear.transportSec.map((transport) => transport + exact(holdAge)),
		outputSec: [g, g, g, t, t],
	});
	const respond = createResponder(sampled);
	const factor = new Float64Array(2);
	const turn = (age: AgePattern, omega: number, out: Float64Array, from: number, to: number): void => {
		if (age.constant) return;
		age.respond(omega, factor);
		for (let i = from; i < to; i += 2) {
			const re = out[i]! * factor[0]! - out[i + 1]! * factor[1]!;
			out[i + 1] = out[i]! * factor[1]! + out[i + 1]! * factor[0]!;
			out[i] = re;
		}
	};
	// Every axis and every opening asks at the same frequencies.
	const known = new Map<number, Float64Array>();
	return (omega: number, out: Float64Array): void => {
		let answer = known.get(omega);
		if (!answer) {
			if (known.size >= MOST_KEPT) known.clear();
			answer = new Float64Array(CRAFT_ANSWER_LENGTH);
			respond(omega, answer);
			turn(holdAge, omega, answer, 0, 30);
			turn(gyroAge, omega, answer, 0, 18);
			turn(attitudeAge, omega, answer, 18, 30);
			known.set(omega, answer);
		}
		out.set(answer);
	};
}

/** Whether anything that one axis's u moves reaches another axis's readings, in the linear craft's own entries. */
export function axesTouch(linear: LinearCraft): boolean {
	const n = linear.order;
	for (let axis = 0; axis < 3; axis++) {
		const reached = new Uint8Array(n);
		const queue: number[] = [];
		for (let i = 0; i < n; i++)
			if (linear.bCommand[3 * i + axis] !== 0) {
				reached[i] = 1;
				queue.push(i);
			}
		for (let at = queue.pop(); at !== undefined; at = queue.pop())
			for (let i = 0; i < n; i++)
				if (!reached[i] && linear.a[i * n + at] !== 0) {
					reached[i] = 1;
					queue.push(i);
				}
		for (let other = 0; other < 3; other++) {
			if (other === axis) continue;
			for (const row of [OUTPUT.gyro + other, ...(other < 2 ? [OUTPUT.angle + other] : [])])
				for (let i = 0; i < n; i++) if (reached[i] && linear.c[row * n + i] !== 0) return true;
		}
	}
	return false;
}
