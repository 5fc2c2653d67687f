import { AXES } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import * as mat3 from "../math/mat3.ts";
import { pivotInertia } from "../physics/pivot-rig.ts";
import type { Plant } from "../physics/plant.ts";
import { plantAt } from "../physics/plant-at.ts";
import type { PivotSpec, RigSpec } from "../physics/rig-spec.ts";
import { axisStates, type LinearCraft, linearisePlant, OUTPUT, trimOf } from "./linearise.ts";
import { stringsLinear } from "./rig-strings-linear.ts";

/** A craft on its rig as the margins read it: same names of states, the judged axis changed. */
export type RigLinear =
	| {
			readonly feasible: true;
			readonly linear: LinearCraft;
			/** What thrust carries of the weight, 0..1; the rig carries the rest. */
			readonly thrustShare: number;
	  }
	| { readonly feasible: false; readonly reason: string };

/**
 * The linear craft on a rig about level in still air, at the throttle of the drill (docs/model.md section 13). Thrust carries a share of the weight: linearised where a craft
 * of so much less weight hovers, which has the same rotor speeds; what the rig adds is put on top.
 */
export function rigLinear(
	craft: Craft,
	given: OperatingPoint,
	rig: RigSpec,
	ofHover: number,
	lag: OperatingPoint["motorLag"] = given.motorLag,
): RigLinear {
	const point: OperatingPoint = { ...given, throttle: "hover", windMPerSec: [0, 0, 0], motorLag: lag };
	const plant = plantAt(craft, point);
	const share = thrustShareAt(craft, plant, point, ofHover);
	if (typeof share === "string") return { feasible: false, reason: share };
	const lighter = { ...plant, gravityMPerSec2: plant.gravityMPerSec2 * share };
	const found = linearisePlant(craft, lighter, point);
	if (!found.feasible) return found;
	if (rig.kind === "pivot")
		return { feasible: true, thrustShare: share, linear: pivotLinear(found.linear, plant, rig) };
	if (share >= 1)
		return { feasible: false, reason: "at hover throttle or more the strings are slack: it flies" };
	const hung = stringsLinear(found.linear, plant, rig, plant.massKg * plant.gravityMPerSec2 * (1 - share));
	return { feasible: true, thrustShare: share, linear: hung };
}

/** Throttle that a drill holds when its judged part begins, times that of hover: its last before the axis is first asked for something. */
export function throttleOf(drill: Drill, hoverThrottle: number): number {
	const asked = drill.events.find(
		(each) => each.kind === "angle" || each.kind === "rate" || each.kind === "torque",
	);
	let now = 1;
	for (const event of drill.events) {
		if (asked && event.atSec > asked.atSec) break;
		if (event.kind === "throttle")
			now = Math.min(1, event.throttle + (event.ofHover ?? 0) * hoverThrottle) / hoverThrottle;
	}
	return now;
}

/** Bisected over the weight with which the craft would hover at that throttle. */
function thrustShareAt(craft: Craft, plant: Plant, point: OperatingPoint, ofHover: number): number | string {
	const throttleAt = (share: number): number | null => {
		const found = trimOf(craft, { ...plant, gravityMPerSec2: plant.gravityMPerSec2 * share }, point);
		return found.feasible ? found.trim.throttle : null;
	};
	const found = trimOf(craft, plant, point);
	if (!found.feasible) return found.reason;
	if (Math.abs(ofHover - 1) < 1e-9) return 1;
	const wanted = ofHover * found.trim.throttle;
	let [low, high] = [0.02, 3];
	for (let i = 0; i < 40; i++) {
		const middle = (low + high) / 2;
		const throttle = throttleAt(middle);
		if (throttle === null || throttle > wanted) high = middle;
		else low = middle;
	}
	if (low < 0.03)
		return `at ${(100 * ofHover).toFixed(0)} % of hover throttle the motors carry next to nothing`;
	return low;
}

/**
 * One degree of freedom left: the free craft's own rates of change with the axis turning and everything else following it, projected on that turning.
 * m is the momentum about the pivot over the whole inertia, so that m = omega + a.h/I as in the air.
 */
function pivotLinear(free: LinearCraft, plant: Plant, rig: PivotSpec): LinearCraft {
	const axis = AXES.indexOf(rig.axis) as 0 | 1 | 2;
	const name = AXES[axis]!;
	const n = free.order;
	const at = (state: string): number => free.names.indexOf(state);
	const { whole, armM } = pivotInertia(plant, rig);
	const [rx, ry, rz] = armM;
	// Velocity north, east, down of the centre of mass per unit of turning.
	const swing = [
		[0, -rz, ry],
		[rz, 0, -rx],
		[-ry, rx, 0],
	][axis]!;
	const side = axis === 0 ? "east" : "north";
	const own = axisStates(free, axis, true).filter((s) => free.names[s] !== side);
	const others = free.names.flatMap((each, s) => (own.includes(s) || (axis < 2 && each === side) ? [] : [s]));
	const states = [...own, ...others].sort((a, b) => a - b);
	const turn = at(`${name}Momentum`);
	const rotors = at(`${name}Rotors`);
	const estimate = at(`${name}Estimate`);
	const error = at(`${name}Error`);
	const j = (row: number, column: number): number => plant.inertiaKgM2[(3 * row + column) as 0];
	/** J^-1 h of the axis's rotor pattern, and a.h over the whole inertia. */
	const pattern = [0, 1, 2].map((k) => -free.c[(OUTPUT.rate + k) * n + rotors]!);
	const carried = [0, 1, 2].reduce((sum, k) => sum + j(axis, k) * pattern[k]!, 0) / whole;
	const omegaOf = (s: number): number => (s === turn ? 1 : s === rotors ? -carried : 0);
	/** How the free craft moves when one of the rig's own states is 1. */
	const spread = (s: number): Float64Array => {
		const z = new Float64Array(n);
		const omega = omegaOf(s);
		if (s !== turn) z[s] = 1;
		z[turn]! += omega;
		if (s === rotors) for (let k = 0; k < 3; k++) z[at(`${AXES[k]}Momentum`)]! += pattern[k]!;
		for (let k = 0; k < 3; k++) z[at(WORLD[k]!)]! += swing[k]! * omega;
		return z;
	};
	const lighter = plant.gravityMPerSec2 - free.plant.gravityMPerSec2;
	const upright = axis === 2 ? 0 : rz;
	const a = new Float64Array(n * n);
	for (const row of others) for (const column of others) a[row * n + column] = free.a[row * n + column]!;
	for (const s of own) {
		const z = spread(s);
		const change = (row: number): number => {
			let sum = 0;
			for (let k = 0; k < n; k++) sum += free.a[row * n + k]! * z[k]!;
			return sum;
		};
		let torque = -rig.frictionNmSec * omegaOf(s);
		for (let k = 0; k < 3; k++)
			torque +=
				j(axis, k) * change(at(`${AXES[k]}Momentum`)) + plant.massKg * swing[k]! * change(at(WORLD[k]!));
		// Thrust carries less than the weight: the rest of it swings too.
		if (s === error) torque -= plant.massKg * lighter * upright;
		for (const row of own) a[row * n + s] = row === turn ? torque / whole : change(row);
		if (error >= 0) a[error * n + s] = omegaOf(s);
		if (estimate >= 0) {
			const omegaDot = a[turn * n + s]! - carried * a[rotors * n + s]!;
			const lag = -free.a[estimate * n + estimate]!;
			a[estimate * n + s] = lag * ((upright * omegaDot) / plant.gravityMPerSec2 - (s === estimate ? 1 : 0));
		}
	}
	const bTorque = free.bTorque.slice();
	for (const s of own) bTorque.fill(0, 3 * s, 3 * s + 3);
	bTorque[3 * turn + axis] = 1 / whole;
	for (const s of others) bTorque[3 * s + axis] = 0;
	const c = new Float64Array(OUTPUT.length * n);
	const ownRows = [
		OUTPUT.gyro + axis,
		OUTPUT.rate + axis,
		...(axis < 2 ? [OUTPUT.angle + axis, OUTPUT.trueAngle + axis] : []),
	];
	for (let row = 0; row < OUTPUT.length; row++)
		for (const s of ownRows.includes(row) ? own : others) c[row * n + s] = free.c[row * n + s]!;
	for (const row of [OUTPUT.rate + axis, ...(at(`${name}Gyro`) < 0 ? [OUTPUT.gyro + axis] : [])])
		for (const s of own) c[row * n + s] = omegaOf(s);
	if (at(`${name}Gyro`) >= 0)
		for (const s of own) a[at(`${name}Gyro`) * n + s] = gyroChange(free, name, s, omegaOf(s));
	return pick({ ...free, a, bTorque, c, plant }, states);
}

const WORLD = ["north", "east", "down"] as const;

/** g' = a (omega - g). */
function gyroChange(free: LinearCraft, name: string, s: number, omega: number): number {
	const gyro = free.names.indexOf(`${name}Gyro`);
	const rate = -free.a[gyro * free.order + gyro]!;
	return rate * (omega - (s === gyro ? 1 : 0));
}

/** The states of these indices alone. */
function pick(linear: LinearCraft, states: readonly number[]): LinearCraft {
	const n = linear.order;
	const m = states.length;
	const a = new Float64Array(m * m);
	const rows = (from: Float64Array): Float64Array =>
		Float64Array.from({ length: 3 * m }, (_, i) => from[3 * states[Math.floor(i / 3)]! + (i % 3)]!);
	const c = new Float64Array(OUTPUT.length * m);
	states.forEach((s, i) => {
		states.forEach((t, k) => {
			a[i * m + k] = linear.a[s * n + t]!;
		});
		for (let row = 0; row < OUTPUT.length; row++) c[row * m + i] = linear.c[row * n + s]!;
	});
	return {
		...linear,
		order: m,
		names: states.map((s) => linear.names[s]!),
		a,
		bCommand: rows(linear.bCommand),
		bTorque: rows(linear.bTorque),
		c,
	};
}

/** N m about the axis that one unit of u makes once the motors have followed, in the air. */
export function torquePerUnit(linear: LinearCraft, axis: 0 | 1 | 2): number {
	const n = linear.order;
	const rotors = linear.names.indexOf(`${AXES[axis]}Rotors`);
	const change = [0, 1, 2].map((k) => linear.a[linear.names.indexOf(`${AXES[k]}Momentum`) * n + rotors]!);
	return mat3.times(linear.plant.inertiaKgM2, change as [number, number, number])[axis];
}
