import { expm } from "../math/expm.ts";
import { multiply } from "../math/matrix.ts";
import { type Continuous, type Sampled, type StateSpace, sampled, stateSpace } from "./state-space.ts";

export interface Delays {
	/** Per input, in seconds: from the hold to the plant. A single number serves all. */
	readonly inputSec?: number | readonly number[];
	/** Per output, in seconds: age of what is sampled. A single number serves all. */
	readonly outputSec?: number | readonly number[];
}

/**
 * Exact zero-order-hold equivalent: u is held over each period, reaches the plant inputSec later, and y is
 * the plant's output outputSec ago (Astrom and Wittenmark, Computer-Controlled Systems, 3e 1997, section 3.2 on delays;
 * from memory). A delay is whole periods plus a fraction; the hold is split at the fraction, so nothing is approximated.
 *
 * States of the result: the plant's n first, then per input its past values u[k-1], u[k-2], ..., then per
 * output with a delay what has been read and not yet delivered, oldest last.
 */
export function discretise(
	plant: StateSpace<Continuous>,
	periodSec: number,
	delays: Delays = {},
): StateSpace<Sampled> {
	const timeBase = sampled(periodSec);
	const { order: n, inputs: m, outputs: p } = plant;
	const inputDelay = split(delays.inputSec ?? 0, m, periodSec, "inputSec");
	const outputDelay = split(delays.outputSec ?? 0, p, periodSec, "outputSec");
	let size = n;
	const history = inputDelay.map(({ whole, fraction }) => {
		const first = size;
		size += whole + (fraction > 0 ? 1 : 0);
		return first;
	});
	const pending = outputDelay.map(({ whole, fraction }) => {
		const first = size;
		size += whole + (fraction > 0 ? 1 : 0);
		return first;
	});
	const width = size + m;
	/** Column of u_i[k - age] in [state, input]. */
	const column = (i: number, age: number): number => (age === 0 ? size + i : history[i]! + age - 1);

	const rows = new Float64Array(size * width);
	const statesAt = (t: number): Float64Array => {
		const out = new Float64Array(n * width);
		const { phi } = holdFor(plant, t);
		for (let r = 0; r < n; r++) for (let c = 0; c < n; c++) out[r * width + c] = phi[r * n + c]!;
		for (let i = 0; i < m; i++) {
			const { whole, fraction } = inputDelay[i]!;
			const early = Math.min(t, fraction);
			const late = holdFor(plant, t - early);
			const first = multiply(late.phi, holdFor(plant, early).gamma, n, n, m);
			for (let r = 0; r < n; r++) {
				if (early > 0) out[r * width + column(i, whole + 1)]! += first[r * m + i]!;
				if (t > early) out[r * width + column(i, whole)]! += late.gamma[r * m + i]!;
			}
		}
		return out;
	};
	const outputsAt = (states: Float64Array, t: number): Float64Array => {
		const out = multiply(plant.c, states, p, n, width);
		for (let o = 0; o < p; o++) {
			for (let i = 0; i < m; i++) {
				const { whole, fraction } = inputDelay[i]!;
				const age = t >= fraction ? whole : whole + 1;
				out[o * width + column(i, age)]! += plant.d[o * m + i]!;
			}
		}
		return out;
	};
	rows.set(statesAt(periodSec));
	for (let i = 0; i < m; i++) {
		const length = historyLength(inputDelay[i]!);
		for (let age = 1; age <= length; age++) rows[column(i, age) * width + column(i, age - 1)] = 1;
	}
	const now = new Float64Array(n * width);
	for (let r = 0; r < n; r++) now[r * width + r] = 1;
	const atTick = outputsAt(now, 0);
	const reads = new Float64Array(p * width);
	for (let o = 0; o < p; o++) {
		const { fraction } = outputDelay[o]!;
		const length = historyLength(outputDelay[o]!);
		const source = fraction > 0 ? outputsAt(statesAt(periodSec - fraction), periodSec - fraction) : atTick;
		const row = source.subarray(o * width, (o + 1) * width);
		if (length === 0) {
			reads.set(row, o * width);
			continue;
		}
		rows.set(row, pending[o]! * width);
		for (let k = 1; k < length; k++) rows[(pending[o]! + k) * width + pending[o]! + k - 1] = 1;
		reads[o * width + pending[o]! + length - 1] = 1;
	}
	const part = (from: Float64Array, count: number, start: number, wide: number): Float64Array => {
		const out = new Float64Array(count * wide);
		for (let r = 0; r < count; r++)
			out.set(from.subarray(r * width + start, r * width + start + wide), r * wide);
		return out;
	};
	return stateSpace(
		timeBase,
		{
			a: part(rows, size, 0, size),
			b: part(rows, size, size, m),
			c: part(reads, p, 0, size),
			d: part(reads, p, size, m),
		},
		{ order: size, inputs: m, outputs: p },
	);
}

interface SplitDelay {
	readonly whole: number;
	readonly fraction: number;
}

const historyLength = ({ whole, fraction }: SplitDelay): number => whole + (fraction > 0 ? 1 : 0);

function split(
	delay: number | readonly number[],
	count: number,
	periodSec: number,
	name: string,
): SplitDelay[] {
	const list = typeof delay === "number" ? new Array<number>(count).fill(delay) : delay;
	if (list.length !== count)
		throw new RangeError(`discretise: ${list.length} values of ${name}, expected ${count}`);
	return list.map((seconds) => {
		if (!(seconds >= 0 && Number.isFinite(seconds)))
			throw new RangeError(`discretise: ${name} ${seconds} s, expected 0 or more`);
		const whole = Math.floor(seconds / periodSec + 1e-9);
		const fraction = seconds - whole * periodSec;
		return { whole, fraction: fraction > 1e-9 * periodSec ? fraction : 0 };
	});
}

interface Hold {
	readonly phi: Float64Array;
	readonly gamma: Float64Array;
}

/** By plant and time: inputs, outputs and models at other ages ask for the same ones. */
const holds = new WeakMap<StateSpace, Map<number, Hold>>();

/** e^(A t) and the integral of e^(A s) B over 0..t, from one exponential; not to be written to. */
function holdFor(plant: StateSpace, t: number): Hold {
	let known = holds.get(plant);
	if (!known) {
		known = new Map();
		holds.set(plant, known);
	}
	let hold = known.get(t);
	if (!hold) {
		hold = makeHold(plant, t);
		known.set(t, hold);
	}
	return hold;
}

function makeHold(plant: StateSpace, t: number): Hold {
	const { order: n, inputs: m } = plant;
	const size = n + m;
	const block = new Float64Array(size * size);
	for (let r = 0; r < n; r++) {
		for (let c = 0; c < n; c++) block[r * size + c] = plant.a[r * n + c]! * t;
		for (let c = 0; c < m; c++) block[r * size + n + c] = plant.b[r * m + c]! * t;
	}
	const e = expm(block, size);
	const phi = new Float64Array(n * n);
	const gamma = new Float64Array(n * m);
	for (let r = 0; r < n; r++) {
		phi.set(e.subarray(r * size, r * size + n), r * n);
		gamma.set(e.subarray(r * size + n, (r + 1) * size), r * m);
	}
	return { phi, gamma };
}
