import type { Craft } from "../craft/model.ts";
import { AIR_SIZE, createKernel, OUTSIDE_SIZE, ROTORS } from "../physics/kernel-layout.ts";
import type { Plant } from "../physics/plant.ts";
import type { Trim } from "../physics/trim.ts";
import type { MovingJoints } from "./moving-joints.ts";

/**
 * What u does to the joints that move by themselves before any rotor has another speed: rotors that speed up turn the airframe back, which jerks its joints. Per joint
 * 3 numbers, rad/s^2 per unit of u of roll, pitch, yaw; linear in the rotors' acceleration, so that one central difference is exact.
 * @param patterns of rotor speed, rad/s per unit of u
 */
export function jointsDriven(
	craft: Craft,
	plant: Plant,
	trim: Trim,
	joints: MovingJoints,
	lagSec: number,
	patterns: readonly (readonly number[])[],
): Float64Array {
	const count = joints.axes.length;
	const rotors = plant.rotors.map((rotor) => ({ ...rotor, tauUpSec: lagSec, tauDownSec: lagSec }));
	const kernel = createKernel({ ...plant, rotors }, { ...craft.sensors, gyroBiasRadPerSec: [0, 0, 0] });
	const x = Float64Array.from(trim.state);
	const dx = new Float64Array(x.length);
	const swing = new Float64Array(2 * count);
	const slope = new Float64Array(2 * count);
	const [air, outside] = [new Float64Array(AIR_SIZE), new Float64Array(OUTSIDE_SIZE)];
	const at = (axis: number, u: number): Float64Array => {
		const drive = Float64Array.from(
			rotors,
			(_, i) => (x[ROTORS + i]! + u * patterns[axis]![i]!) / trim.voltageV,
		);
		joints.slopes(kernel, x, swing, drive, air, outside, dx, slope);
		return slope.slice(count);
	};
	const driven = new Float64Array(3 * count);
	for (let axis = 0; axis < 3; axis++) {
		const [up, down] = [at(axis, U), at(axis, -U)];
		for (let k = 0; k < count; k++) driven[3 * k + axis] = (up[k]! - down[k]!) / (2 * U);
	}
	// What is below rounding against the axis that jerks a joint most is nothing.
	const most = driven.reduce((size, each) => Math.max(size, Math.abs(each)), 0);
	return driven.map((each) => (Math.abs(each) < 1e-9 * most ? 0 : each));
}

/** Of command. */
const U = 0.01;
