import type { LimbServo } from "../craft/limb-model.ts";
import { gripPlace, linkPlaces } from "../craft/limb-pose.ts";
import { combineBodies } from "../craft/mass.ts";
import type { Craft, MassProperties } from "../craft/model.ts";
import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { JointDrive } from "./joint-drives.ts";
import type { JointTree, TreeBody } from "./joint-tree.ts";
import { STANDARD_GRAVITY } from "./plant.ts";

/** What hangs on the craft. */
export interface CarriedLoad {
	readonly massKg: number;
	/** While the limb is folded. */
	readonly positionM: Vec3;
	/** Moves with the last link. */
	readonly inGrip?: boolean;
	/** From the cube's own axes to those that `positionM` is in; left out: along them. */
	readonly turn?: Mat3;
	/** Of the tether it hangs on, where that is not the craft file's. */
	readonly cordM?: number;
}

export interface LimbTree {
	readonly tree: JointTree;
	readonly drives: readonly JointDrive[];
	/** One per joint: the pose, then 0 for what hangs. */
	readonly startRad: readonly number[];
	/** How many of the joints, the last ones, hang free. */
	readonly hanging: number;
}

const LEVEL: Vec3 = [0, 0, 1];
const NO_INERTIA = mat3.diagonal(0, 0, 0);

/** Whether something on the craft moves by itself while it hovers. */
export const swings = (craft: Craft, loads: readonly CarriedLoad[]): boolean =>
	loads.length > 0 && (craft.load.tether !== undefined || craft.load.liquid !== undefined);

/**
 * Frame, links and load as one tree at a pose. A load on a tether, or the part of a liquid that sloshes, hangs from two crossed hinges that stand at 0 where it hangs
 * along `down` (body axes) at this pose; the first is along the last hinge where that is level, so that a turning link and a hanging load never bring them into line.
 */
export function limbTree(
	craft: Craft,
	loads: readonly CarriedLoad[],
	poseRad: readonly number[],
	down: Vec3 = LEVEL,
): LimbTree {
	const { limb, load } = craft;
	const links = limb?.links ?? [];
	const bodies: TreeBody[] = links.map(({ hingeM, axis, mass }, i) => ({
		parent: i - 1,
		hingeM,
		axis,
		mass,
	}));
	const drives: JointDrive[] = links.map(({ servo }) => driveOf(servo));
	let frame = limb ? limb.frame : craft.bare;
	const startRad = links.map((_, i) => poseRad[i] ?? 0);
	let hanging = 0;
	const fix = (parent: number, mass: MassProperties): void => {
		if (parent < 0) frame = combineBodies([frame, mass]);
		else bodies[parent] = { ...bodies[parent]!, mass: combineBodies([bodies[parent]!.mass, mass]) };
	};
	for (const each of loads) {
		const parent = each.inGrip && limb ? links.length - 1 : -1;
		const whole = loadBody(craft, each);
		if (load.tether) {
			const held = heldPlace(craft, each, parent, poseRad);
			const cordM = each.cordM ?? load.tether.lengthM;
			bodies.push(...hang(held, parent, links[parent]?.axis, down, cordM, whole, bodies.length));
			drives.push(...hangers(whole.massKg, cordM, load.tether.dampingRatio));
			startRad.push(0, 0);
			hanging += 2;
			continue;
		}
		if (!load.liquid) {
			fix(parent, whole);
			continue;
		}
		const { share, lengthM, dampingRatio } = load.liquid;
		const stays: MassProperties = {
			massKg: whole.massKg * (1 - share),
			centreOfMassM: whole.centreOfMassM,
			inertiaKgM2: mat3.scale(whole.inertiaKgM2, 1 - share),
		};
		fix(parent, stays);
		// The pendulum's bob stands at the load's middle at rest.
		const held = heldPlace(craft, each, parent, poseRad);
		const above = { ...held, atM: vec3.subtract(held.atM, vec3.scale(down, lengthM)) };
		const bob = { massKg: whole.massKg * share, centreOfMassM: whole.centreOfMassM, inertiaKgM2: NO_INERTIA };
		bodies.push(...hang(above, parent, links[parent]?.axis, down, lengthM, bob, bodies.length));
		drives.push(...hangers(bob.massKg, lengthM, dampingRatio));
		startRad.push(0, 0);
		hanging += 2;
	}
	return { tree: { frame, bodies }, drives, startRad, hanging };
}

function driveOf(servo: LimbServo): JointDrive {
	const { naturalRadPerSec, dampingRatio, rateLimitRadPerSec, torqueLimitNm, jitterRad, jitterHz } = servo;
	const law = { naturalRadPerSec, dampingRatio, rateLimitRadPerSec, torqueLimitNm, jitterRad, jitterHz };
	if (servo.stiffnessNmPerRad === null) return { kind: "servo", ...law };
	const k = servo.stiffnessNmPerRad;
	return {
		kind: "soft",
		...law,
		stiffnessNmPerRad: k,
		// Damped by a twentieth of what the servo's own frequency would take.
		dampingNmSecPerRad: (0.1 * k) / naturalRadPerSec,
		backlashRad: servo.backlashRad,
	};
}

function hangers(massKg: number, lengthM: number, dampingRatio: number): JointDrive[] {
	const dampingNmSecPerRad = 2 * dampingRatio * massKg * lengthM ** 2 * Math.sqrt(STANDARD_GRAVITY / lengthM);
	return [
		{ kind: "hanging", dampingNmSecPerRad },
		{ kind: "hanging", dampingNmSecPerRad },
	];
}

/** A load other than the heaviest scales that one's inertia with its mass. */
export function loadBody({ load }: Craft, { massKg, positionM }: CarriedLoad): MassProperties {
	const perMass = load.massKg > 0 ? 1 / load.massKg : 0;
	return {
		massKg,
		centreOfMassM: positionM,
		inertiaKgM2: mat3.scale(load.inertiaKgM2, massKg * perMass),
	};
}

interface HeldPlace {
	/** Where it is held at the pose, body axes. */
	readonly atM: Vec3;
	/** From the link's folded axes to body axes, and back to a place while folded. */
	readonly turn: Mat3;
	folded(placeM: Vec3): Vec3;
}

function heldPlace(
	{ limb }: Craft,
	{ positionM }: CarriedLoad,
	parent: number,
	poseRad: readonly number[],
): HeldPlace {
	if (parent < 0 || !limb) return { atM: positionM, turn: mat3.diagonal(1, 1, 1), folded: (place) => place };
	const { turn, hingeM } = linkPlaces(limb, poseRad)[parent]!;
	const back = mat3.transpose(turn);
	return {
		atM: gripPlace(limb, poseRad, positionM),
		turn,
		folded: (place) => vec3.add(limb.links[parent]!.hingeM, mat3.times(back, vec3.subtract(place, hingeM))),
	};
}

/** Two crossed hinges at `held`, the mass `lengthM` along `down` from there; all brought back to the folded link. */
function hang(
	held: HeldPlace,
	parent: number,
	linkAxis: Vec3 | undefined,
	down: Vec3,
	lengthM: number,
	mass: MassProperties,
	index: number,
): TreeBody[] {
	const back = mat3.transpose(held.turn);
	const wished = linkAxis ? mat3.times(held.turn, linkAxis) : ([0, 1, 0] as Vec3);
	const level = (v: Vec3): Vec3 => vec3.subtract(v, vec3.scale(down, dot(v, down)));
	let first = level(wished);
	if (vec3.length(first) < 0.5) first = level([0, 1, 0]);
	first = vec3.scale(first, 1 / vec3.length(first));
	const second = vec3.cross(first, down);
	const hingeM = held.folded(held.atM);
	const centre = held.folded(vec3.add(held.atM, vec3.scale(down, lengthM)));
	const turned = mat3.multiply(mat3.multiply(back, mass.inertiaKgM2), held.turn);
	return [
		{
			parent,
			hingeM,
			axis: mat3.times(back, first),
			mass: { massKg: 0, centreOfMassM: hingeM, inertiaKgM2: NO_INERTIA },
		},
		{
			parent: index,
			hingeM,
			axis: mat3.times(back, second),
			mass: { massKg: mass.massKg, centreOfMassM: centre, inertiaKgM2: turned },
		},
	];
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
