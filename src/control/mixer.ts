import type { Vec3 } from "../math/types.ts";
import { type MixerGeometry, mixTable } from "./mix-table.ts";

export type { MixerGeometry } from "./mix-table.ts";

/** The builder's choices; `Craft.mixer` fits. */
export interface MixerOptions {
	/** Rows per rotor: roll, pitch, yaw; null: pseudo-inverse from the geometry. */
	readonly table: readonly Vec3[] | null;
	readonly batteryCompensation: boolean;
	/** lambda, 0..1, of the thrust share x = (1 - lambda) c + lambda c^2 at command c. */
	readonly thrustLinearisation: number;
	readonly lowestSpin: number;
	readonly throttleRiseCap: number;
}

/**
 * From throttle and u (roll, pitch, yaw) to motor commands. x is a rotor's demand, the command before thrust
 * linearisation and battery compensation:
 *
 *     c(x) = g h(x)      g = V_ref / V or 1      h solves x = (1 - lambda) h + lambda h^2; lambda = 0: h = x
 *     lo, hi = demands whose commands are lowestSpin and 1
 *
 *     t  = clamp(throttle, lo, hi)
 *     r_i = M_i,roll u_roll + M_i,pitch u_pitch           y_i = M_i,yaw u_yaw
 *     s  = min(1, (hi - lo) / (max r - min r))            roll and pitch shrink together only where no throttle fits them
 *     t  = min(t, hi - s max r)                           throttle gives way downward without limit ...
 *     t  = max(t, min(lo - s min r, throttle + cap))      ... and upward by the cap at most
 *     if t + s min r < lo:  s = (lo - t) / min r          the cap held: roll and pitch take what room there is
 *     k  = largest in 0..1 with lo <= t + s r_i + k y_i <= hi for every i     yaw is given up first: it never moves throttle
 *     x_i = t + s r_i + k y_i      delivered u = (s u_roll, s u_pitch, k u_yaw)
 */
export interface Mixer {
	readonly rotorCount: number;
	/** rotorCount x 3, row by row: roll, pitch, yaw. */
	readonly table: Float64Array;
	/**
	 * Reads throttle and battery voltage at input[at], input[at + 1] and u at out[uAt..+2]; writes delivered u to out[deliveredAt..+2] and commands to out[commandsAt..].
	 * @returns whether roll, pitch and yaw have a motor at an end, lowest or full, that throttle by itself does not ask for
	 */
	mix(
		input: Float64Array,
		at: number,
		out: Float64Array,
		uAt: number,
		deliveredAt: number,
		commandsAt: number,
	): boolean;
	/** The throttle demand at which a motor gets this command. */
	demandFor(command: number, voltageV: number): number;
	/** dc/dx where a motor gets this command: 1 without compensation and linearisation. */
	slope(command: number, voltageV: number): number;
}

/** @throws RangeError for a geometry that cannot make all four of thrust, roll, pitch and yaw, or odd options. */
export function createMixer(options: MixerOptions, geometry: MixerGeometry): Mixer {
	const n = geometry.rotors.length;
	requireOptions(options, n);
	const table = options.table ? Float64Array.from(options.table.flat()) : mixTable(geometry);
	const lambda = options.thrustLinearisation;
	const reference = options.batteryCompensation ? geometry.referenceVoltageV : 0;
	const numbers = Float64Array.of(
		lambda,
		options.lowestSpin,
		options.throttleRiseCap,
		reference,
		toDemand(lambda, options.lowestSpin),
		toDemand(lambda, 1),
	);
	return {
		rotorCount: n,
		table,
		demandFor: (command, voltageV) => toDemand(lambda, command / boost(reference, voltageV)),
		slope: (command, voltageV) => {
			const g = boost(reference, voltageV);
			return g / (1 - lambda + (2 * lambda * command) / g);
		},
		mix: (input, at, out, uAt, deliveredAt, commandsAt) =>
			mixInto(numbers, table, input, at, out, uAt, deliveredAt, commandsAt),
	};
}

/**
 * `Mixer.mix`; `out` from `commandsAt` holds roll and pitch, then the demands, before the commands.
 * @param numbers 0 lambda, 1 lowestSpin, 2 cap, 3 V_ref (0 without compensation), 4 and 5 lo and hi at g = 1
 */
function mixInto(
	numbers: Float64Array,
	table: Float64Array,
	input: Float64Array,
	at: number,
	out: Float64Array,
	uAt: number,
	deliveredAt: number,
	commandsAt: number,
): boolean {
	const lambda = numbers[0]!;
	const lowest = numbers[1]!;
	const reference = numbers[3]!;
	let lo = numbers[4]!;
	let hi = numbers[5]!;
	let g = 1;
	if (reference > 0) {
		g = boost(reference, input[at + 1]!);
		lo = toDemand(lambda, lowest / g);
		hi = toDemand(lambda, 1 / g);
	}
	const throttle = input[at]!;
	const roll = out[uAt]!;
	const pitch = out[uAt + 1]!;
	const yaw = out[uAt + 2]!;
	let rMin = Number.POSITIVE_INFINITY;
	let rMax = Number.NEGATIVE_INFINITY;
	for (let i = 0, c = commandsAt; i < table.length; i += 3, c++) {
		const r = table[i]! * roll + table[i + 1]! * pitch;
		if (r < rMin) rMin = r;
		if (r > rMax) rMax = r;
		out[c] = r;
	}
	const asked = between(lo, hi, throttle);
	let s = rMax - rMin > hi - lo ? (hi - lo) / (rMax - rMin) : 1;
	let t = asked;
	if (t > hi - s * rMax) t = hi - s * rMax;
	const needed = lo - s * rMin;
	if (t < needed) t = Math.max(t, Math.min(needed, asked + numbers[2]!));
	if (t + s * rMin < lo) s = Math.min(s, Math.max(0, (lo - t) / rMin));
	let k = 1;
	for (let i = 2, c = commandsAt; i < table.length; i += 3, c++) {
		const x = t + s * out[c]!;
		const y = table[i]! * yaw;
		out[c] = x;
		if (y > 0 && x + k * y > hi) k = Math.max(0, (hi - x) / y);
		else if (y < 0 && x + k * y < lo) k = Math.max(0, (lo - x) / y);
	}
	const full = throttle < hi ? hi - ROUNDING : Number.POSITIVE_INFINITY;
	const least = throttle > lo ? lo + ROUNDING : Number.NEGATIVE_INFINITY;
	let ends = false;
	for (let i = 2, c = commandsAt; i < table.length; i += 3, c++) {
		const x = out[c]! + k * table[i]! * yaw;
		if (x >= full || x <= least) ends = true;
		out[c] = between(lowest, 1, g * (lambda === 0 ? x : fromDemand(lambda, x)));
	}
	out[deliveredAt] = s * roll;
	out[deliveredAt + 1] = s * pitch;
	out[deliveredAt + 2] = k * yaw;
	return ends;
}

/** A demand so near an end stands at it, whatever the sums above lose. */
const ROUNDING = 1e-9;

function boost(referenceVoltageV: number, voltageV: number): number {
	return referenceVoltageV > 0 ? referenceVoltageV / Math.max(voltageV, referenceVoltageV / 2) : 1;
}

function toDemand(lambda: number, h: number): number {
	return lambda === 0 ? h : (1 - lambda) * h + lambda * h * h;
}

function fromDemand(lambda: number, x: number): number {
	if (x <= 0) return 0;
	const b = 1 - lambda;
	return (2 * x) / (b + Math.sqrt(b * b + 4 * lambda * x));
}

/** Where the two cross, the lower end wins. */
function between(low: number, high: number, x: number): number {
	if (x > high && high > low) return high;
	if (x < low) return low;
	return x;
}

function requireOptions(options: MixerOptions, rotors: number): void {
	const requireShare = (name: string, value: number): void => {
		if (!(value >= 0 && value <= 1)) throw new RangeError(`mixer ${name}: ${value}, expected 0 to 1`);
	};
	requireShare("thrustLinearisation", options.thrustLinearisation);
	requireShare("throttleRiseCap", options.throttleRiseCap);
	requireShare("lowestSpin", options.lowestSpin);
	if (options.table && options.table.length !== rotors)
		throw new RangeError(`mixer table: ${options.table.length} rows, expected one per rotor (${rotors})`);
}
