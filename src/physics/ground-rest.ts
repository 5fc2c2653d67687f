import * as mat3 from "../math/mat3.ts";
import type { Mat3, Quat, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { type Contacts, FOOT_STRIDE, FOOT_TOUCHES, OWN_FEET, OWN_LAST, ownSize } from "./contact-law.ts";
import { downhill, type GroundSpec, groundNormal } from "./ground-spec.ts";
import { ROTORS } from "./kernel-layout.ts";
import type { Plant } from "./plant.ts";

/** One rotation after another: q then p, as p q. */
const after = ([a, b, c, d]: Quat, [e, f, g, h]: Quat): Quat => [
	a * e - b * f - c * g - d * h,
	a * f + b * e + c * h - d * g,
	a * g - b * h + c * e + d * f,
	a * h + b * g - c * f + d * e,
];

const turned = (by: Vec3): Quat => {
	const angle = vec3.length(by);
	const s = angle > 0 ? Math.sin(angle / 2) / angle : 0.5;
	return [Math.cos(angle / 2), s * by[0], s * by[1], s * by[2]];
};

const rotate = (q: Quat, [x, y, z]: Vec3): Vec3 => {
	const [w, i, j, k] = q;
	return [
		(1 - 2 * (j * j + k * k)) * x + 2 * (i * j - w * k) * y + 2 * (i * k + w * j) * z,
		2 * (i * j + w * k) * x + (1 - 2 * (i * i + k * k)) * y + 2 * (j * k - w * i) * z,
		2 * (i * k - w * j) * x + 2 * (j * k + w * i) * y + (1 - 2 * (i * i + j * j)) * z,
	];
};

/**
 * Static equilibrium with the springs loaded, nose north: height and two tilts by Newton's method, so that the pushes carry the weight and no
 * moment is left. `places`: of the points that may touch, from the centre of mass, body axes, 3 each. Friction bears along the slope in proportion to each push, up to its limit. Motors still.
 * Returns '' or why the craft does not stand.
 */
export function restPose(
	feet: Contacts,
	places: Float64Array,
	plant: Plant,
	spec: GroundSpec,
	x: Float64Array,
	own: Float64Array,
): string {
	const n = groundNormal(spec);
	const down = downhill(spec);
	const side = vec3.cross(n, down);
	const across = Math.hypot(n[0], n[1]);
	const flat: Quat =
		across > 0 ? turned(vec3.scale([n[1] / across, -n[0] / across, 0], spec.slopeRad)) : [1, 0, 0, 0];
	const weight = plant.massKg * plant.gravityMPerSec2;
	const upright = weight * Math.cos(spec.slopeRad);
	const slide = Math.min(Math.tan(spec.slopeRad), spec.friction);
	const arms = Array.from(
		{ length: feet.count },
		(_, i): Vec3 => [places[3 * i]!, places[3 * i + 1]!, places[3 * i + 2]!],
	);
	const poseOf = ([, a, b]: Vec3): Quat =>
		after(turned(vec3.add(vec3.scale(down, a), vec3.scale(side, b))), flat);
	const pushesOf = (guess: Vec3): { at: Vec3[]; push: number[] } => {
		const q = poseOf(guess);
		const at = arms.map((arm) => rotate(q, arm));
		return { at, push: at.map((r) => feet.stiffness * Math.max(0, -guess[0] - vec3.dot(n, r))) };
	};
	const missing = (guess: Vec3): Vec3 => {
		const { at, push } = pushesOf(guess);
		const out: [number, number, number] = [-upright, 0, 0];
		at.forEach((r, i) => {
			const moment = vec3.cross(r, vec3.subtract(n, vec3.scale(down, slide)));
			out[0] += push[i]!;
			out[1] += push[i]! * vec3.dot(moment, down);
			out[2] += push[i]! * vec3.dot(moment, side);
		});
		return out;
	};
	const lowest = Math.max(...arms.map((arm) => -vec3.dot(n, rotate(flat, arm))));
	let guess: Vec3 = [lowest - spec.sinkM, 0, 0];
	const long = Math.max(...arms.map((arm) => vec3.length(arm)));
	const steps: Vec3 = [1e-3 * spec.sinkM, (1e-3 * spec.sinkM) / long, (1e-3 * spec.sinkM) / long];
	for (let round = 0; round < 40; round++) {
		const here = missing(guess);
		const columns = steps.map((step, i) => {
			const shift: [number, number, number] = [0, 0, 0];
			shift[i] = step;
			return vec3.scale(vec3.subtract(missing(vec3.add(guess, shift)), here), 1 / step);
		}) as [Vec3, Vec3, Vec3];
		const jacobian = [0, 1, 2].flatMap((row) => columns.map((c) => c[row]!)) as unknown as Mat3;
		const determinant = vec3.dot(columns[0], vec3.cross(columns[1], columns[2]));
		if (!(Math.abs(determinant) > 0)) break;
		guess = vec3.subtract(guess, mat3.times(mat3.invert(jacobian), here));
	}
	const left = missing(guess);
	const worst = Math.max(Math.abs(left[0]), Math.abs(left[1]) / long, Math.abs(left[2]) / long);
	if (!(worst < 1e-9 * weight))
		return `the craft does not stand on its feet on a slope of ${((spec.slopeRad * 180) / Math.PI).toFixed(1)} degrees: its weight falls outside them`;

	x.fill(0, 0, ROTORS + plant.rotors.length);
	x[2] = -guess[0] / Math.cos(spec.slopeRad);
	x.set(poseOf(guess), 6);
	own.fill(0, feet.ownAt, feet.ownAt + ownSize(feet.count));
	const { at, push } = pushesOf(guess);
	at.forEach((r, i) => {
		const mine = feet.ownAt + OWN_FEET + FOOT_STRIDE * i;
		if (!(push[i]! > 0)) return;
		const anchor = vec3.subtract(r, vec3.scale(down, (slide * push[i]!) / feet.stiffness));
		own.set([anchor[0], anchor[1], anchor[2] + x[2]!], mine);
		own[mine + FOOT_TOUCHES] = 1;
		own[feet.ownAt + OWN_LAST]! += 1 << i;
	});
	return "";
}
