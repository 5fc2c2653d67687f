import * as mat3 from "../math/mat3.ts";
import { solve } from "../math/matrix.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { Plant } from "../physics/plant.ts";
import type { StringsSpec } from "../physics/rig-spec.ts";
import { type LinearCraft, OUTPUT } from "./linearise.ts";

/** Forces and torques against displacement (place north, east, down; turned about roll, pitch, yaw) and its rate, 6 x 6: they pull back by K d + C d'. */
export interface StringForces {
	readonly stiffness: Float64Array;
	readonly damping: Float64Array;
	readonly tensionsN: readonly number[];
}

/**
 * Upright strings under tension about level: along the string its own stiffness and damping, across it tension over length; and the tension's lever as the
 * tied point turns. Tensions are those of equal springs on a body that stays level.
 */
export function stringForces(plant: Plant, spec: StringsSpec, carriedN: number): StringForces {
	const arms = spec.strings.map((each) => vec3.subtract(each.bodyM, plant.centreOfMassM));
	const tensionsN = shareOut(arms, carriedN);
	const stiffness = new Float64Array(36);
	const damping = new Float64Array(36);
	arms.forEach((r, i) => {
		const tension = tensionsN[i]!;
		if (tension <= 0) return;
		const across = tension / (spec.strings[i]!.lengthM + tension / spec.stiffnessNPerM);
		for (let d = 0; d < 6; d++) {
			const turned: Vec3 = [d === 3 ? 1 : 0, d === 4 ? 1 : 0, d === 5 ? 1 : 0];
			const moved =
				d < 3 ? ([d === 0 ? 1 : 0, d === 1 ? 1 : 0, d === 2 ? 1 : 0] as Vec3) : vec3.cross(turned, r);
			const pull: Vec3 = [-across * moved[0], -across * moved[1], -spec.stiffnessNPerM * moved[2]];
			const brake: Vec3 = [0, 0, -spec.dampingNSecPerM * moved[2]];
			const lever = d < 3 ? ([0, 0, 0] as Vec3) : vec3.cross(moved, [0, 0, -tension]);
			const torque = vec3.add(vec3.cross(r, pull), lever);
			const slow = vec3.cross(r, brake);
			for (let k = 0; k < 3; k++) {
				stiffness[6 * k + d]! -= pull[k as 0]!;
				stiffness[6 * (k + 3) + d]! -= torque[k as 0]!;
				damping[6 * k + d]! -= brake[k as 0]!;
				damping[6 * (k + 3) + d]! -= slow[k as 0]!;
			}
		}
	});
	return { stiffness, damping, tensionsN };
}

/** Equal springs under a plate: tension a + b x + c y with the sum and both moments right; a moment that no string can make is left. */
function shareOut(arms: readonly Vec3[], carriedN: number): number[] {
	const size = Math.max(1e-3, ...arms.map((r) => Math.hypot(r[0], r[1])));
	const gram = new Float64Array(9);
	const basis = arms.map((r) => [1, r[0] / size, r[1] / size]);
	for (const b of basis)
		for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) gram[3 * i + k]! += b[i]! * b[k]!;
	for (let i = 0; i < 3; i++) gram[4 * i]! += 1e-9 * arms.length;
	const found = solve(gram, Float64Array.of(carriedN, 0, 0), 3, 1);
	return basis.map((b) => Math.max(0, b[0]! * found[0]! + b[1]! * found[1]! + b[2]! * found[2]!));
}

/** The free craft with strings tied on: its place and heading become states. */
export function stringsLinear(
	free: LinearCraft,
	plant: Plant,
	spec: StringsSpec,
	carriedN: number,
): LinearCraft {
	const { stiffness, damping } = stringForces(plant, spec, carriedN);
	const places = ["northPlace", "eastPlace", "downPlace", "yawError"];
	const names = [...free.names, ...places];
	const old = free.order;
	const n = names.length;
	const at = (name: string): number => names.indexOf(name);
	const wide = (from: Float64Array, rows: number): Float64Array => {
		const to = new Float64Array(rows * n);
		for (let i = 0; i < rows; i++)
			for (let k = 0; k < old; k++) to[i * n + k] = i * old + k < from.length ? from[i * old + k]! : 0;
		return to;
	};
	const a = wide(free.a, n);
	const c = wide(free.c, OUTPUT.length);
	const place = ["northPlace", "eastPlace", "downPlace", "rollError", "pitchError", "yawError"].map(at);
	/** What each displacement's rate is of the states. */
	const rateOf = (d: number, s: number): number =>
		d < 3 ? (s === at(["north", "east", "down"][d]!) ? 1 : 0) : c[(OUTPUT.rate + d - 3) * n + s]!;
	for (let d = 0; d < 3; d++) a[place[d]! * n + at(["north", "east", "down"][d]!)] = 1;
	for (let s = 0; s < n; s++) a[place[5]! * n + s] = rateOf(5, s);
	const inverse = mat3.invert(plant.inertiaKgM2);
	for (let s = 0; s < n; s++) {
		const pull = new Float64Array(6);
		for (let d = 0; d < 6; d++) {
			const moved = place[d] === s ? 1 : 0;
			const rate = rateOf(d, s);
			for (let k = 0; k < 6; k++) pull[k]! -= stiffness[6 * k + d]! * moved + damping[6 * k + d]! * rate;
		}
		const turned = mat3.times(inverse, [pull[3]!, pull[4]!, pull[5]!]);
		["north", "east", "down"].forEach((name, k) => {
			a[at(name) * n + s]! += pull[k]! / plant.massKg;
		});
		["roll", "pitch", "yaw"].forEach((name, k) => {
			a[at(`${name}Momentum`) * n + s]! += turned[k as 0]!;
		});
	}
	// What an estimator sees is the true acceleration, strings included.
	for (const [axis, side, sign] of [
		["roll", "east", -1],
		["pitch", "north", 1],
	] as const) {
		const estimate = at(`${axis}Estimate`);
		if (estimate < 0) continue;
		const lag = -free.a[estimate * old + estimate]!;
		for (let s = 0; s < n; s++)
			a[estimate * n + s] =
				lag * ((sign * a[at(side) * n + s]!) / plant.gravityMPerSec2 - (s === estimate ? 1 : 0));
	}
	return {
		...free,
		plant,
		order: n,
		names,
		a,
		bCommand: lengthen(free.bCommand, n),
		bTorque: lengthen(free.bTorque, n),
		c,
	};
}

function lengthen(from: Float64Array, rows: number): Float64Array {
	const to = new Float64Array(3 * rows);
	to.set(from);
	return to;
}
