import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import {
	ATTITUDE,
	bodyRates,
	GYRO,
	HEAD_SIZE,
	type Kernel,
	MOMENTUM,
	POSITION,
	ROTOR_STRIDE,
	ROTORS,
	VELOCITY,
	WORK_STEP,
} from "./kernel-layout.ts";
import { createLoadedStep, PIECE } from "./loaded-step.ts";
import type { Rig } from "./pivot-rig.ts";
import type { Plant } from "./plant.ts";
import type { StringsSpec } from "./rig-spec.ts";
import { writeTurn } from "./turn.ts";

export interface StringRig extends Rig {
	/** In the strings, J. */
	stored(x: Float64Array): number;
	/** Of every string at a state, N. */
	tensions(kernel: Kernel, x: Float64Array): Float64Array;
}

/** Of a step times the fastest frequency of the strings, and times their fastest decay. */
const FINE = 0.05;
const DECAY = 0.25;
const AXIS = { roll: 0, pitch: 1, yaw: 2 } as const;

/**
 * Strings that only pull (docs/model.md section 13): tension max(0, k s + c s') while stretched by s > 0, along the string, at its body point. Classical Runge-Kutta over
 * the kernel's derivative with these loads at each stage, in sub-steps short against the stretch's own frequency.
 */
export function createStringRig(plant: Plant, spec: StringsSpec): StringRig {
	const count = spec.strings.length;
	const { stiffnessNPerM: stiffness, dampingNSecPerM: damping } = spec;
	const axis = AXIS[spec.axis];
	const arms = new Float64Array(3 * count);
	/** Fixed ends, world; set by `hold`. */
	const ends = new Float64Array(3 * count);
	const lengths = Float64Array.from(spec.strings, (each) => each.lengthM);
	const pulls = new Float64Array(count);
	/** Pieces of a step, 1/s. */
	const fastest = new Float64Array(1);
	const turned = new Float64Array(9);
	const rates = new Float64Array(3);
	let middle: Vec3 = [0, 0, 0];
	const reload = (changed: Plant): void => {
		let mobility = 0;
		const [a, b, c] = [changed.inertiaKgM2[0], changed.inertiaKgM2[4], changed.inertiaKgM2[8]];
		middle = [0, 0, 0];
		spec.strings.forEach(({ bodyM }, i) => {
			const arm = vec3.subtract(bodyM, changed.centreOfMassM);
			arms.set(arm, 3 * i);
			middle = vec3.add(middle, vec3.scale(arm, 1 / count));
			mobility += 1 / changed.massKg + vec3.length(arm) ** 2 / Math.min(a, b, c);
		});
		fastest[0] = Math.max(Math.sqrt(stiffness * mobility) / FINE, (damping * mobility) / DECAY);
	};
	reload(plant);

	const addLoads = (
		kernel: Kernel,
		x: Float64Array,
		_own: Float64Array,
		outside: Float64Array,
		load: Float64Array,
	): void => {
		writeTurn(x, turned);
		bodyRates(kernel, x, rates);
		const t = turned;
		for (let i = 0; i < 6; i++) load[i] = outside[i]!;
		for (let s = 0; s < count; s++) {
			const rx = arms[3 * s]!;
			const ry = arms[3 * s + 1]!;
			const rz = arms[3 * s + 2]!;
			const dx = ends[3 * s]! - x[0]! - (t[0]! * rx + t[1]! * ry + t[2]! * rz);
			const dy = ends[3 * s + 1]! - x[1]! - (t[3]! * rx + t[4]! * ry + t[5]! * rz);
			const dz = ends[3 * s + 2]! - x[2]! - (t[6]! * rx + t[7]! * ry + t[8]! * rz);
			const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
			const stretch = length - lengths[s]!;
			pulls[s] = 0;
			if (!(stretch > 0)) continue;
			const ex = dx / length;
			const ey = dy / length;
			const ez = dz / length;
			const bx = t[0]! * ex + t[3]! * ey + t[6]! * ez;
			const by = t[1]! * ex + t[4]! * ey + t[7]! * ez;
			const bz = t[2]! * ex + t[5]! * ey + t[8]! * ez;
			// (r x e) along the rates is the point's speed towards the fixed end.
			const tx = ry * bz - rz * by;
			const ty = rz * bx - rx * bz;
			const tz = rx * by - ry * bx;
			const nearing = ex * x[3]! + ey * x[4]! + ez * x[5]! + tx * rates[0]! + ty * rates[1]! + tz * rates[2]!;
			const pull = stiffness * stretch - damping * nearing;
			if (!(pull > 0)) continue;
			pulls[s] = pull;
			load[0]! += pull * tx;
			load[1]! += pull * ty;
			load[2]! += pull * tz;
			load[3]! += pull * ex;
			load[4]! += pull * ey;
			load[5]! += pull * ez;
		}
	};
	const takePiece = createLoadedStep(plant.rotors.length, addLoads);
	const piece = new Float64Array(PIECE.length);
	const none = new Float64Array(6);
	const scratch = new Float64Array(6);

	return {
		ownLength: 0,
		idle: () => false,
		reload,
		hold(kernel, x) {
			const hover = [x[0]!, x[1]!, x[2]!] as const;
			for (let s = 0; s < count; s++) {
				for (let i = 0; i < 3; i++) ends[3 * s + i] = hover[i as 0]! + arms[3 * s + i]!;
				ends[3 * s + 2]! -= lengths[s]!;
			}
			x.fill(0, ATTITUDE, ATTITUDE + 4);
			x[ATTITUDE] = Math.cos(spec.startAngleRad / 2);
			x[ATTITUDE + 1 + axis] = Math.sin(spec.startAngleRad / 2);
			writeTurn(x, turned);
			for (let i = 0; i < 3; i++) {
				x[POSITION + i] = hover[i as 0]! + middle[i as 0]!;
				for (let j = 0; j < 3; j++) x[POSITION + i]! -= turned[3 * i + j]! * middle[j as 0]!;
				x[VELOCITY + i] = 0;
				x[GYRO + i] = 0;
				x[MOMENTUM + i] = 0;
				for (let k = 0; k < kernel.rotorCount; k++)
					x[MOMENTUM + i]! += kernel.p[HEAD_SIZE + k * ROTOR_STRIDE + 12 + i]! * x[ROTORS + k]!;
			}
		},
		step(kernel, x, u, air, outside, own) {
			const { work } = kernel;
			const whole = work[WORK_STEP]!;
			const pieces = Math.ceil(whole * fastest[0]!);
			piece[PIECE.count] = pieces;
			piece[PIECE.seconds] = whole / pieces;
			for (let i = 0; i < pieces; i++) {
				piece[PIECE.index] = i;
				takePiece(kernel, x, u, air, outside, own, piece);
			}
			work[WORK_STEP] = whole;
		},
		stored(x) {
			writeTurn(x, turned);
			let sum = 0;
			for (let s = 0; s < count; s++) {
				const d = [0, 1, 2].map((i) => {
					let at = ends[3 * s + i]! - x[i]!;
					for (let j = 0; j < 3; j++) at -= turned[3 * i + j]! * arms[3 * s + j]!;
					return at;
				});
				const stretch = Math.hypot(d[0]!, d[1]!, d[2]!) - lengths[s]!;
				if (stretch > 0) sum += 0.5 * stiffness * stretch * stretch;
			}
			return sum;
		},
		tensions(kernel, x) {
			addLoads(kernel, x, none, none, scratch);
			return pulls.slice();
		},
	};
}
