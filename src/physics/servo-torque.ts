import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import { JOINT, type JointDrive } from "./joint-drives.ts";
import { createKernel, OUTSIDE_SIZE, ROTORS } from "./kernel-layout.ts";
import { limbForces } from "./limb-drag.ts";
import { createLimbStepper } from "./limb-stepper.ts";
import { limbTree } from "./limb-tree.ts";
import type { Plant } from "./plant.ts";
import { loadsAt, poseAt } from "./plant-at.ts";
import type { Trim } from "./trim-solver.ts";

/** Steady flight as far as a limb's servos feel it. */
interface SteadyFlight {
	readonly plant: Plant;
	readonly trim: Trim;
	/** The way a load hangs, body axes. */
	readonly down: Vec3;
	/** The kernel's air array. */
	readonly air: Float64Array;
}

/** Torque that each link's servo gives to hold its pose in steady flight, N m: the joints of the equations of motion held still. */
export function servoTorquesAt(
	craft: Craft,
	point: OperatingPoint,
	{ plant, trim, down, air }: SteadyFlight,
): number[] {
	const links = craft.limb?.links ?? [];
	if (links.length === 0) return [];
	const loads = loadsAt(craft, point);
	const made = limbTree(craft, loads, poseAt(craft, point), down);
	const stepper = createLimbStepper({
		plant,
		tree: made.tree,
		drives: made.drives.map((drive) =>
			drive.kind === "soft" || drive.kind === "servo"
				? { ...drive, kind: "servo" as const, torqueLimitNm: Number.POSITIVE_INFINITY, jitterRad: 0 }
				: drive,
		),
		inertiaFactor: point.inertiaFactor,
		startRad: made.startRad,
		forces: limbForces(craft, made, loads),
	});
	const kernel = createKernel(plant);
	const own = new Float64Array(stepper.ownLength);
	stepper.begin(kernel, own, made.startRad);
	const x = Float64Array.from(trim.state);
	const u = new Float64Array(plant.rotors.length).map((_, i) => x[ROTORS + i]! / trim.voltageV);
	stepper.slopesAt(kernel, x, own, u, air, new Float64Array(OUTSIDE_SIZE), x.slice(), own.slice());
	return links.map((_, i) => stepper.torques[i]!);
}

/** Shafts of soft servos turned ahead of their links, so that each spring carries what it must, its play taken up. */
export function preload(
	drives: readonly JointDrive[],
	torquesNm: readonly number[],
	own: Float64Array,
): void {
	const n = drives.length;
	drives.forEach((each, i) => {
		if (each.kind !== "soft") return;
		const torque = torquesNm[i] ?? 0;
		const play = (Math.sign(torque) * each.backlashRad) / 2;
		for (const block of [JOINT.shaft, JOINT.target])
			own[block * n + i] = own[i]! + torque / each.stiffnessNmPerRad + play;
	});
}
