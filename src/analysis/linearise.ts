import type { Mixer } from "../control/mixer.ts";
import { AXES } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import * as mat3 from "../math/mat3.ts";
import { multiply, solve } from "../math/matrix.ts";
import * as quaternion from "../math/quaternion.ts";
import type { Quat } from "../math/types.ts";
import type { HeldLimb } from "../physics/held-limb.ts";
import { derivative } from "../physics/kernel.ts";
import {
	ATTITUDE,
	bodyRates,
	createKernel,
	ESTIMATE,
	GYRO,
	MOMENTUM,
	OUTSIDE_SIZE,
	ROTORS,
	VELOCITY,
} from "../physics/kernel-layout.ts";
import { craftMixer } from "../physics/mixer-at.ts";
import type { Plant } from "../physics/plant.ts";
import { steadyAir } from "../physics/steady-air.ts";
import { type Settled, settle, type Trim, type TrimResult, trimAt } from "../physics/trim.ts";
import { keptFor } from "./kept.ts";
import { type MovingJoints, movingJoints } from "./moving-joints.ts";
import { rotorPatterns, transports } from "./rotor-patterns.ts";

/**
 * The craft about its trim, x' = A x + B u + E tau, continuous time. Small signals: one motor lag, battery voltage follows
 * the rotors, position (ground effect, shear) and heading left out, the mixer's own voltage compensation at its trim value.
 */
export interface LinearCraft {
	readonly order: number;
	/** What each state is; an axis's own in `axisStates`. */
	readonly names: readonly string[];
	readonly a: Float64Array;
	/** order x 3: u of roll, pitch, yaw, acting at the motors. */
	readonly bCommand: Float64Array;
	/** order x 3: outside torque, body axes, N m. */
	readonly bTorque: Float64Array;
	/** OUTPUT.length x order. */
	readonly c: Float64Array;
	readonly trim: Trim;
	readonly plant: Plant;
	/** Where it was linearised. */
	readonly point: OperatingPoint;
	readonly motorLagSec: number;
	/** Per axis, weighed by what each motor contributes to its turning. */
	readonly transportSec: readonly [number, number, number];
}

/** Rows of c: gyro as its low-pass gives it (3), body rates (3), angles as the estimator gives them (2), angles (2). */
export const OUTPUT = { gyro: 0, rate: 3, angle: 6, trueAngle: 8, length: 10 } as const;

/** Trim with the craft's own mixer; rotors that cannot make thrust and all torques are a reason too, not an error. */
export function trimOf(
	craft: Craft,
	plant: Plant,
	point: OperatingPoint,
	held: HeldLimb | null = null,
): TrimResult {
	let mixer: Mixer;
	try {
		mixer = mixerOf(craft);
	} catch (error) {
		if (error instanceof RangeError) return { feasible: false, reason: error.message };
		throw error;
	}
	return trimAt(craft, plant, point, { mixer, held });
}

/** `trimOf` with what hangs on the craft in agreement, and what the air does to limb and load. */
export const settled = (craft: Craft, point: OperatingPoint): Settled =>
	settle(craft, point, (plant, held) => trimOf(craft, plant, point, held));

export type LinearResult =
	| { readonly feasible: true; readonly linear: LinearCraft }
	| { readonly feasible: false; readonly reason: string };

const mixers = keptFor<Mixer>(1);
export const mixerOf = (craft: Craft): Mixer => mixers(craft, "", () => craftMixer(craft));

/** Which of the two lags an operating point asks for, s. */
export function motorLagAt(plant: Plant, point: OperatingPoint): number {
	const { tauUpSec, tauDownSec } = plant.rotors[0]!;
	if (point.motorLag === "up") return tauUpSec;
	if (point.motorLag === "down") return tauDownSec;
	if (point.motorLag === "mean") return 2 / (1 / tauUpSec + 1 / tauDownSec);
	return Math.max(tauUpSec, tauDownSec);
}

/** Trims the craft and takes scaled central differences of the equations of motion about the trim. */
export function linearise(craft: Craft, point: OperatingPoint): LinearResult {
	return kept(craft, JSON.stringify(point), () => {
		const at = settled(craft, point);
		const { plant, result, held } = at;
		if (!result.feasible) return result;
		const limb = { held, joints: movingJoints(craft, point, at) };
		return { feasible: true, linear: about(craft, plant, point, mixerOf(craft), result.trim, limb) };
	});
}

/** Gains do not change it: sets and drags of gains share what was found. */
const kept = keptFor<LinearResult>(256);

/** The same with a plant that differs from the point's own, such as one whose weight something else carries in part. */
export function linearisePlant(craft: Craft, plant: Plant, point: OperatingPoint): LinearResult {
	const found = trimOf(craft, plant, point);
	if (!found.feasible) return found;
	return { feasible: true, linear: about(craft, plant, point, mixerOf(craft), found.trim) };
}

/** Limb and load about the trim: what the air does to them while they stand still, and what moves by itself. */
interface LimbAbout {
	readonly held: HeldLimb | null;
	readonly joints: MovingJoints | null;
}

const NO_LIMB: LimbAbout = { held: null, joints: null };

function about(
	craft: Craft,
	plant: Plant,
	point: OperatingPoint,
	mixer: Mixer,
	trim: Trim,
	limb: LimbAbout = NO_LIMB,
): LinearCraft {
	const { joints } = limb;
	const n = plant.rotors.length;
	const lag = motorLagAt(plant, point);
	const { gyroLowPassHz, estimatorTimeConstantSec } = craft.sensors;
	const raw = rawDerivatives(craft, plant, point, trim, lag, limb);
	// Rotor speeds as patterns: what one unit of u of each axis does to them in steady flight, and the rest.
	const patterns = rotorPatterns(plant, mixer, trim);
	const names: string[] = [];
	const columns: Float64Array[] = [];
	const add = (name: string, entries: readonly (readonly [number, number])[]): void => {
		const column = new Float64Array(raw.order);
		for (const [i, v] of entries) column[i] = v;
		names.push(name);
		columns.push(column);
	};
	add("rollError", [[0, 1]]);
	add("pitchError", [[1, 1]]);
	for (let j = 0; j < 3; j++)
		add(
			`${AXES[j]}Momentum`,
			[0, 1, 2].map((i) => [RAW.momentum + i, plant.inertiaKgM2[(3 * i + j) as 0]] as const),
		);
	for (let j = 0; j < 3; j++) add(["north", "east", "down"][j]!, [[RAW.velocity + j, 1]]);
	patterns.forEach((pattern, k) => {
		add(
			k < 3 ? `${AXES[k]}Rotors` : `rotors${k}`,
			pattern.map((v, i) => [RAW.rotors + i, v] as const),
		);
	});
	if (gyroLowPassHz !== null) for (let j = 0; j < 3; j++) add(`${AXES[j]}Gyro`, [[RAW.rotors + n + j, 1]]);
	if (estimatorTimeConstantSec !== null)
		for (let j = 0; j < 2; j++) add(`${AXES[j]}Estimate`, [[RAW.rotors + n + 3 + j, 1]]);
	joints?.axes.forEach((axis, k) => {
		const at = RAW.rotors + n + 5 + k;
		add(`${AXES[axis]}Joint${k}`, [[at, 1]]);
		add(`${AXES[axis]}JointRate${k}`, [[at + joints.axes.length, 1]]);
	});
	return transform(raw, names, columns, {
		hasGyro: gyroLowPassHz !== null,
		hasEstimate: estimatorTimeConstantSec !== null,
		trim,
		plant,
		point,
		lag,
		transportSec: transports(craft, plant, trim, patterns),
	});
}

/** Raw coordinates: attitude error 3 (body axes), momentum 3, velocity 3, rotor speeds n, gyro 3, estimate 2. */
const RAW = { attitude: 0, momentum: 3, velocity: 6, rotors: 9 } as const;

interface RawModel {
	readonly order: number;
	readonly rotors: number;
	/** order x order */
	readonly a: Float64Array;
	/** body rates 3 and roll and pitch angle 2, each x order */
	readonly outputs: Float64Array;
}

/** Fourth-order central differences; the velocity step is small since drag |v| v has no second derivative at rest. */
function rawDerivatives(
	craft: Craft,
	plant: Plant,
	point: OperatingPoint,
	trim: Trim,
	lag: number,
	{ held, joints }: LimbAbout,
): RawModel {
	const n = plant.rotors.length;
	const plain = RAW.rotors + n + 5;
	const moving = joints?.axes.length ?? 0;
	const order = plain + 2 * moving;
	const kernel = createKernel(
		{ ...plant, rotors: plant.rotors.map((r) => ({ ...r, tauUpSec: lag, tauDownSec: lag })) },
		{ ...craft.sensors, gyroBiasRadPerSec: [0, 0, 0] },
	);
	const swing = new Float64Array(2 * moving);
	const swingSlope = new Float64Array(2 * moving);
	const base = Float64Array.from(trim.state);
	const q0: Quat = [base[6]!, base[7]!, base[8]!, base[9]!];
	const back: Quat = [q0[0], -q0[1], -q0[2], -q0[3]];
	const drive = new Float64Array(n).map((_, i) => base[ROTORS + i]! / trim.voltageV);
	const air = steadyAir(point);
	const outside = new Float64Array(OUTSIDE_SIZE);
	const x = new Float64Array(base.length);
	const dx = new Float64Array(base.length);
	const rates = new Float64Array(3);
	const at = order + 5;
	const sample = (j: number, shift: number): Float64Array => {
		x.set(base);
		swing.fill(0);
		if (j >= plain) swing[j - plain] = shift;
		else if (j < RAW.momentum) {
			const v = [0, 0, 0];
			v[j] = shift / 2;
			x.set(product(q0, [Math.sqrt(1 - shift * shift * 0.25), v[0]!, v[1]!, v[2]!]), ATTITUDE);
		} else x[kernelIndex(j, n)]! += shift;
		if (joints) joints.slopes(kernel, x, swing, drive, air, outside, dx, swingSlope);
		else {
			held?.act(kernel, x, air, outside);
			derivative(kernel, x, drive, air, outside, dx);
		}
		const out = new Float64Array(at);
		const turned = product(back, [dx[6]!, dx[7]!, dx[8]!, dx[9]!]);
		for (let i = 0; i < 3; i++) out[i] = 2 * turned[(i + 1) as 1]!;
		for (let i = RAW.momentum; i < plain; i++) out[i] = dx[kernelIndex(i, n)]!;
		out.set(swingSlope, plain);
		bodyRates(kernel, x, rates);
		out.set(rates, order);
		const [roll, pitch] = quaternion.toEuler([x[6]!, x[7]!, x[8]!, x[9]!]);
		out[order + 3] = roll;
		out[order + 4] = pitch;
		return out;
	};
	const a = new Float64Array(order * order);
	const outputs = new Float64Array(5 * order);
	for (let j = 0; j < order; j++) {
		const h = stepFor(j, n, plant, trim);
		const [p1, m1, p2, m2] = [sample(j, h), sample(j, -h), sample(j, 2 * h), sample(j, -2 * h)];
		const slope = (i: number): number => (8 * (p1[i]! - m1[i]!) - (p2[i]! - m2[i]!)) / (12 * h);
		for (let i = 0; i < order; i++) a[i * order + j] = slope(i);
		for (let i = 0; i < 5; i++) outputs[i * order + j] = slope(order + i);
	}
	return { order, rotors: n, a, outputs };
}

/** Hamilton product. */
function product([a, b, c, d]: Quat, [w, x, y, z]: Quat): Quat {
	return [
		a * w - b * x - c * y - d * z,
		a * x + b * w + c * z - d * y,
		a * y - b * z + c * w + d * x,
		a * z + b * y - c * x + d * w,
	];
}

function kernelIndex(raw: number, n: number): number {
	if (raw < RAW.velocity) return MOMENTUM + raw - RAW.momentum;
	if (raw < RAW.rotors) return VELOCITY + raw - RAW.velocity;
	if (raw < RAW.rotors + n) return ROTORS + raw - RAW.rotors;
	return raw < RAW.rotors + n + 3 ? GYRO + raw - RAW.rotors - n : ESTIMATE + raw - RAW.rotors - n - 3;
}

function stepFor(raw: number, n: number, plant: Plant, trim: Trim): number {
	if (raw < RAW.momentum) return 1e-3;
	if (raw < RAW.velocity) return 1e-4 * plant.inertiaKgM2[(4 * (raw - RAW.momentum)) as 0];
	if (raw < RAW.rotors) return 1e-5;
	if (raw < RAW.rotors + n) return 1e-3 * Math.max(1, trim.speedsRadPerSec[raw - RAW.rotors]!);
	// A joint's: well within what its spring is bent by, so that none comes into its play.
	return raw < RAW.rotors + n + 5 ? 1e-2 : 1e-5;
}

interface Rest {
	readonly hasGyro: boolean;
	readonly hasEstimate: boolean;
	readonly trim: Trim;
	readonly plant: Plant;
	readonly point: OperatingPoint;
	readonly lag: number;
	readonly transportSec: readonly [number, number, number];
}

/** What a state's size is when something matters; entries below 1e-7 of that are rounding and set to 0. */
function sizeOf(name: string): number {
	if (name.endsWith("Error") || name.endsWith("Rotors") || name.endsWith("Estimate")) return 0.1;
	return name.startsWith("rotors") ? 10 : 1;
}

function transform(
	raw: RawModel,
	names: readonly string[],
	columns: readonly Float64Array[],
	rest: Rest,
): LinearCraft {
	const n = names.length;
	const m = raw.order;
	const t = new Float64Array(m * n);
	columns.forEach((column, j) => {
		for (let i = 0; i < m; i++) t[i * n + j] = column[i]!;
	});
	// Left inverse: the columns are independent; rows outside their span (heading, absent filters) drop out.
	const tt = new Float64Array(n * m);
	const scale = columns.map((c) => c.reduce((s, v) => s + v * v, 0));
	for (let j = 0; j < n; j++) for (let i = 0; i < m; i++) tt[j * m + i] = t[i * n + j]! / scale[j]!;
	const gram = multiply(tt, t, n, m, n);
	const left = (y: Float64Array, wide: number): Float64Array =>
		solve(gram, multiply(tt, y, n, m, wide), n, wide);
	const a = left(multiply(raw.a, t, m, m, n), n);
	const size = names.map(sizeOf);
	for (let i = 0; i < n; i++)
		for (let j = 0; j < n; j++) if (Math.abs(a[i * n + j]!) * size[j]! < 1e-7 * size[i]!) a[i * n + j] = 0;
	const bCommand = new Float64Array(3 * n);
	for (let axis = 0; axis < 3; axis++)
		bCommand[3 * names.indexOf(`${AXES[axis]}Rotors`) + axis] = 1 / rest.lag;
	const bTorque = new Float64Array(3 * n);
	const inverse = mat3.invert(rest.plant.inertiaKgM2);
	for (let i = 0; i < 3; i++)
		for (let j = 0; j < 3; j++)
			bTorque[3 * names.indexOf(`${AXES[i]}Momentum`) + j] = inverse[(3 * i + j) as 0];
	const seen = multiply(raw.outputs, t, 5, m, n);
	for (let i = 0; i < 5; i++)
		for (let j = 0; j < n; j++) if (Math.abs(seen[i * n + j]!) * size[j]! < 1e-8) seen[i * n + j] = 0;
	const c = new Float64Array(OUTPUT.length * n);
	const row = (to: number, from: number): void => c.set(seen.subarray(from * n, (from + 1) * n), to * n);
	for (let i = 0; i < 3; i++) {
		row(OUTPUT.rate + i, i);
		if (rest.hasGyro) c[(OUTPUT.gyro + i) * n + names.indexOf(`${AXES[i]}Gyro`)] = 1;
		else row(OUTPUT.gyro + i, i);
	}
	for (let i = 0; i < 2; i++) {
		row(OUTPUT.trueAngle + i, 3 + i);
		row(OUTPUT.angle + i, 3 + i);
		if (rest.hasEstimate) c[(OUTPUT.angle + i) * n + names.indexOf(`${AXES[i]}Estimate`)] = 1;
	}
	return {
		order: n,
		names,
		a,
		bCommand,
		bTorque,
		c,
		trim: rest.trim,
		plant: rest.plant,
		point: rest.point,
		motorLagSec: rest.lag,
		transportSec: rest.transportSec,
	};
}

/** The states of one axis alone, its place where strings hold it; `drift` false leaves out tilt, velocity and what the estimator makes of them. */
export function axisStates(linear: LinearCraft, axis: 0 | 1 | 2, drift = true): number[] {
	const name = AXES[axis]!;
	const wanted = [`${name}Momentum`, `${name}Rotors`, `${name}Gyro`];
	const joint = `${name}Joint`;
	if (drift && axis < 2) {
		const side = axis === 0 ? "east" : "north";
		wanted.push(`${name}Error`, side, `${name}Estimate`, `${side}Place`);
	}
	return linear.names.flatMap((n, i) => (wanted.includes(n) || n.startsWith(joint) ? [i] : []));
}
