import { gripPlace } from "../craft/limb-pose.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { JOINT, jointStateSize } from "../physics/joint-drives.ts";
import { createTreePoser } from "../physics/joint-tree.ts";
import {
	bodyRates,
	HEAD_SIZE,
	type Kernel,
	ROTOR_STRIDE,
	ROTORS,
	WORK_STEP,
} from "../physics/kernel-layout.ts";
import { joinLoad, leaveLoad } from "../physics/limb-change.ts";
import { createLimbForces, type LimbForces } from "../physics/limb-forces.ts";
import { createLimbStepper, type LimbStepper } from "../physics/limb-stepper.ts";
import { type CarriedLoad, type LimbTree, limbTree } from "../physics/limb-tree.ts";
import type { Plant } from "../physics/plant.ts";
import { plantOf, poseAt } from "../physics/plant-at.ts";
import type { Stepper } from "../physics/stepper.ts";
import type { Drill } from "./drill.ts";

/** A flight in which a limb moves, or a load swings. */
export interface LimbFlight {
	readonly stepper: Stepper;
	/** Its own numbers at the flight's start, and the kernel made to agree. */
	begin(kernel: Kernel, own: Float64Array): void;
	/** The servo of a link goes to an angle from folded, no faster than `rateRadPerSec`. */
	aim(own: Float64Array, link: number, angleRad: number, rateRadPerSec: number): void;
	/** Other loads from here on; `taken` is the one that was at rest and free. Rewrites x, own and kernel. */
	change(
		kernel: Kernel,
		x: Float64Array,
		own: Float64Array,
		loads: readonly CarriedLoad[],
		taken: boolean,
		down: Vec3,
	): Plant;
	/** The grip held where it is by a spring and damper; 0 lets go. */
	hold(stiffnessNPerM: number, dampingNSecPerM: number): void;
	/** Makes the kernel agree after other numbers of the craft were written into it. */
	agree(kernel: Kernel, own: Float64Array): void;
	/** What a recorder writes: each link's angle and torque, then the swing. */
	readonly columns: readonly string[];
	write(own: Float64Array, row: Float64Array, at: number): void;
	/** What the servos went through, sentences. */
	notes(): string[];
	/** Angles of the links now. */
	pose(own: Float64Array): number[];
}

/** The drill moves the limb, or something swings on the craft in it. */
export function movesLimb(craft: Craft, drill: Drill, loads: readonly CarriedLoad[]): boolean {
	const hangs = craft.load.tether !== undefined || craft.load.liquid !== undefined;
	if (hangs && (loads.length > 0 || drill.events.some(({ kind }) => kind === "takeUp"))) return true;
	if (!craft.limb) return false;
	return drill.events.some(
		(event) =>
			event.kind === "limb" || event.kind === "stuckGrip" || (event.kind === "takeUp" && event.inGrip),
	);
}

export interface LimbFlightSpec {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly drill: Drill;
	readonly loads: readonly CarriedLoad[];
	/** Which way things hang at the start, body axes. */
	readonly down: Vec3;
	/** What wrong builds change in a plant. */
	wired(plant: Plant): Plant;
}

/** Drag coefficient of a block of loads across the flow (Hoerner, Fluid-Dynamic Drag, 1965: a cube 1.05, from memory). */
const LOAD_DRAG = 1.05;

export function createLimbFlight(spec: LimbFlightSpec): LimbFlight {
	const { craft, point, drill } = spec;
	const links = craft.limb?.links.length ?? 0;
	const pose = poseAt(craft, point);
	const takeUps = drill.events.filter(({ kind }) => kind === "takeUp").length;
	const hangs = craft.load.tether || craft.load.liquid ? 2 : 0;
	const most = links + hangs * (spec.loads.length + takeUps);
	const ownLength = jointStateSize(most);
	let made = limbTree(craft, spec.loads, pose, spec.down);
	let forces = forcesFor(craft, made, links, spec.loads.length > 0);
	let inner = stepperFor(made, made.startRad, forces);
	let inside = jointStateSize(made.tree.bodies.length);
	const peak = new Float64Array(links);
	const over = new Float64Array(links);

	function stepperFor(tree: LimbTree, startRad: readonly number[], acting: LimbForces): LimbStepper {
		const poser = createTreePoser(tree.tree);
		const joints = new Float64Array(2 * tree.tree.bodies.length);
		joints.set(startRad);
		poser.pose(joints);
		const { massKg, centre, inertia } = poser.posture;
		const plant = plantOf(craft, point, {
			massKg,
			centreOfMassM: [centre[0]!, centre[1]!, centre[2]!],
			inertiaKgM2: Array.from(inertia) as unknown as Plant["inertiaKgM2"],
		});
		return createLimbStepper({
			plant: spec.wired(plant),
			tree: tree.tree,
			drives: tree.drives,
			inertiaFactor: point.inertiaFactor,
			startRad,
			ground: null,
			forces: acting,
		});
	}

	const note = (seconds: number): void => {
		for (let i = 0; i < links; i++) {
			const torque = Math.abs(inner.torques[i]!);
			if (torque > peak[i]!) peak[i] = torque;
			if (torque >= craft.limb!.links[i]!.servo.torqueLimitNm * (1 - 1e-9)) over[i]! += seconds;
		}
	};

	const stepper: Stepper = {
		ownLength,
		idle: () => false,
		step(kernel, x, u, air, outside, own) {
			const seconds = kernel.work[WORK_STEP]!;
			inner.step(kernel, x, u, air, outside, own);
			note(seconds);
		},
	};

	return {
		stepper,
		columns: [
			...(craft.limb?.links ?? []).map((_, i) => `limbAngle${i}`),
			...(craft.limb?.links ?? []).map((_, i) => `limbTorque${i}`),
			...(hangs ? ["swing"] : []),
		],
		begin: (kernel, own) => inner.begin(kernel, own, made.startRad),
		aim: (own, link, angleRad, rate) => inner.aim(own, link, angleRad, rate),
		agree: (kernel, own) => inner.refresh(kernel, own),
		hold: (stiffness, damping) => forces.hold(stiffness, damping),
		pose: (own) => Array.from(own.subarray(0, links)),
		write(own, row, at) {
			for (let i = 0; i < links; i++) {
				row[at + i] = own[i]!;
				row[at + links + i] = inner.torques[i]!;
			}
			if (!hangs) return;
			const n = made.tree.bodies.length;
			row[at + 2 * links] = n > links ? Math.acos(Math.cos(own[n - 2]!) * Math.cos(own[n - 1]!)) : 0;
		},
		change(kernel, x, own, loads, taken, down) {
			const n = made.tree.bodies.length;
			const rates = new Float64Array(3);
			bodyRates(kernel, x, rates);
			const spin = rotorSpin(kernel, x);
			const angles = Array.from(own.subarray(0, n));
			const next = limbTree(craft, loads, angles.slice(0, links), down);
			const all = next.tree.bodies.length;
			const kept = taken ? n : links;
			const startRad = next.startRad.map((v, i) => (i < kept ? angles[i]! : v));
			const before = { tree: made.tree, joints: own.slice(0, 2 * n), extra: new Float64Array(9) };
			const after = { tree: next.tree, joints: new Float64Array(2 * all), extra: new Float64Array(9) };
			after.joints.set(startRad);
			for (let i = 0; i < kept; i++) after.joints[all + i] = own[n + i]!;
			const acting = forcesFor(craft, next, links, loads.length > 0);
			const stepperNext = stepperFor(next, startRad, acting);
			before.extra.set(inner.extraInertia);
			after.extra.set(stepperNext.extraInertia);
			const load = loads[loads.length - 1];
			const loose = made.drives.map(({ kind }) => kind !== "servo");
			if (taken && load) joinLoad(before, after, placeOf(craft, load, startRad, down), spin, x, loose);
			else leaveLoad(before, after, [rates[0]!, rates[1]!, rates[2]!], spin, x);
			const old = own.slice(0, inside);
			own.fill(0, 0, ownLength);
			for (let block = 0; block < JOINT.blocks; block++)
				for (let i = 0; i < Math.min(kept, all); i++) own[block * all + i] = old[block * n + i]!;
			own.set(after.joints, 0);
			own[JOINT.blocks * all] = old[JOINT.blocks * n]!;
			made = next;
			forces = acting;
			inner = stepperNext;
			inside = jointStateSize(all);
			const poser = createTreePoser(next.tree);
			poser.pose(after.joints);
			const { massKg, centre, inertia } = poser.posture;
			inner.refresh(kernel, own);
			return spec.wired(
				plantOf(craft, point, {
					massKg,
					centreOfMassM: [centre[0]!, centre[1]!, centre[2]!],
					inertiaKgM2: Array.from(inertia) as unknown as Plant["inertiaKgM2"],
				}),
			);
		},
		notes: () =>
			(craft.limb?.links ?? []).flatMap(({ name, servo }, i) => {
				const said = `servo of '${name}': up to ${peak[i]!.toFixed(2)} of its ${servo.torqueLimitNm.toFixed(2)} N m (${((100 * peak[i]!) / servo.torqueLimitNm).toFixed(0)} %), ${((servo.stallCurrentA * peak[i]!) / servo.torqueLimitNm).toFixed(1)} A`;
				return peak[i]! > 0
					? [over[i]! > 0 ? `${said}; overpowered for ${over[i]!.toFixed(2)} s` : said]
					: [];
			}),
	};
}

/** Angular momentum of the rotors in the airframe, body axes. */
function rotorSpin(kernel: Kernel, x: Float64Array): Vec3 {
	const spin = [0, 0, 0];
	for (let i = 0; i < kernel.rotorCount; i++)
		for (let k = 0; k < 3; k++) spin[k]! += kernel.p[HEAD_SIZE + ROTOR_STRIDE * i + 12 + k]! * x[ROTORS + i]!;
	return [spin[0]!, spin[1]!, spin[2]!];
}

/** Where a load's centre is as it is taken up, body axes. */
function placeOf(craft: Craft, load: CarriedLoad, poseRad: readonly number[], down: Vec3): Vec3 {
	const held = load.inGrip && craft.limb ? gripPlace(craft.limb, poseRad, load.positionM) : load.positionM;
	const { tether } = craft.load;
	return tether ? vec3.add(held, vec3.scale(down, tether.lengthM)) : held;
}

function forcesFor(craft: Craft, made: LimbTree, links: number, held: boolean): LimbForces {
	const { tree } = made;
	const size = Math.cbrt(craft.load.massKg / 1000);
	const gripped = held && !craft.load.tether ? LOAD_DRAG * size * size : 0;
	const areas = tree.bodies.map((body, i) => {
		if (i < links) return craft.limb!.links[i]!.dragAreaM2 + (i === links - 1 ? gripped : 0);
		return craft.load.tether && body.mass.massKg > 0 ? LOAD_DRAG * size * size : 0;
	});
	const parents = tree.bodies.map(({ parent }) => parent);
	const last = Math.max(0, links - 1);
	const body = tree.bodies[last];
	return createLimbForces({
		dragAreaM2: areas,
		gripBody: last,
		gripFromCentreM:
			craft.limb && body ? vec3.subtract(craft.limb.gripM, body.mass.centreOfMassM) : [0, 0, 0],
		airDensityKgM3: craft.air.densityKgM3,
		rotorRadiusM: craft.propulsion.radiusM,
		carries(i, b) {
			for (let at = b; at >= 0; at = parents[at]!) if (at === i) return true;
			return false;
		},
	});
}
