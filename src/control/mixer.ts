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
	 * @returns whether anything was shrunk or throttle moved
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
	const lowest = options.lowestSpin;
	const boost = (voltageV: number): number =>
		options.batteryCompensation
			? geometry.referenceVoltageV / Math.max(voltageV, geometry.referenceVoltageV / 2)
			: 1;
	const toDemand = (h: number): number => (lambda === 0 ? h : (1 - lambda) * h + lambda * h * h);
	const fromDemand = (x: number): number => {
		if (lambda === 0) return x;
		if (x <= 0) return 0;
		const b = 1 - lambda;
		return (2 * x) / (b + Math.sqrt(b * b + 4 * lambda * x));
	};
	return {
		rotorCount: n,
		table,
		demandFor: (command, voltageV) => toDemand(command / boost(voltageV)),
		slope: (command, voltageV) => {
			const g = boost(voltageV);
			return g / (1 - lambda + (2 * lambda * command) / g);
		},
		mix(input, at, out, uAt, deliveredAt, commandsAt) {
			const throttle = input[at]!;
			const g = boost(input[at + 1]!);
			const lo = toDemand(lowest / g);
			const hi = toDemand(1 / g);
			const roll = out[uAt]!;
			const pitch = out[uAt + 1]!;
			const yaw = out[uAt + 2]!;
			let rMin = Number.POSITIVE_INFINITY;
			let rMax = Number.NEGATIVE_INFINITY;
			for (let i = 0; i < n; i++) {
				const r = table[3 * i]! * roll + table[3 * i + 1]! * pitch;
				if (r < rMin) rMin = r;
				if (r > rMax) rMax = r;
			}
			const asked = Math.max(lo, Math.min(hi, throttle));
			let s = rMax - rMin > hi - lo ? (hi - lo) / (rMax - rMin) : 1;
			let t = Math.min(asked, hi - s * rMax);
			const needed = lo - s * rMin;
			if (t < needed) t = Math.max(t, Math.min(needed, asked + options.throttleRiseCap));
			if (t + s * rMin < lo) s = Math.min(s, Math.max(0, (lo - t) / rMin));
			let k = 1;
			for (let i = 0; i < n; i++) {
				const x = t + s * (table[3 * i]! * roll + table[3 * i + 1]! * pitch);
				const y = table[3 * i + 2]! * yaw;
				if (y > 0 && x + k * y > hi) k = Math.max(0, (hi - x) / y);
				else if (y < 0 && x + k * y < lo) k = Math.max(0, (lo - x) / y);
			}
			for (let i = 0; i < n; i++) {
				const x = t + s * (table[3 * i]! * roll + table[3 * i + 1]! * pitch) + k * table[3 * i + 2]! * yaw;
				const c = g * fromDemand(x);
				out[commandsAt + i] = Math.max(lowest, Math.min(1, c));
			}
			out[deliveredAt] = s * roll;
			out[deliveredAt + 1] = s * pitch;
			out[deliveredAt + 2] = k * yaw;
			return s < 1 || k < 1 || t !== asked;
		},
	};
}

function requireOptions(options: MixerOptions, rotors: number): void {
	const between = (name: string, value: number): void => {
		if (!(value >= 0 && value <= 1)) throw new RangeError(`mixer ${name}: ${value}, expected 0 to 1`);
	};
	between("thrustLinearisation", options.thrustLinearisation);
	between("throttleRiseCap", options.throttleRiseCap);
	between("lowestSpin", options.lowestSpin);
	if (options.table && options.table.length !== rotors)
		throw new RangeError(`mixer table: ${options.table.length} rows, expected one per rotor (${rotors})`);
}
