import { gripPlace } from "../craft/limb-pose.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { servoAmperes } from "../craft/servo-current.ts";
import { toMatrix } from "../math/quaternion.ts";
import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { ownSize } from "../physics/contact-law.ts";
import { holdFoot, type Standing } from "../physics/ground.ts";
import { restPose } from "../physics/ground-rest.ts";
import { JOINT, jointStateSize } from "../physics/joint-drives.ts";
import { createJointProfiles } from "../physics/joint-profiles.ts";
import { type JointTree, type Posture, wholeAt } from "../physics/joint-tree.ts";
import {
	bodyRates,
	HEAD_SIZE,
	type Kernel,
	ROTOR_STRIDE,
	ROTORS,
	WORK_STEP,
} from "../physics/kernel-layout.ts";
import { joinLoad, leaveLoad } from "../physics/limb-change.ts";
import { limbForces } from "../physics/limb-drag.ts";
import { GRIP, type LimbForces } from "../physics/limb-forces.ts";
import type { LimbGround } from "../physics/limb-ground.ts";
import { createLimbStepper, type LimbStepper } from "../physics/limb-stepper.ts";
import { type CarriedLoad, type LimbTree, limbTree } from "../physics/limb-tree.ts";
import type { Plant } from "../physics/plant.ts";
import { plantOf, poseAt } from "../physics/plant-at.ts";
import { preload } from "../physics/servo-torque.ts";
import type { Stepper } from "../physics/stepper.ts";
import { type Drill, LEVEL_GROUND } from "./drill.ts";
import { createLimbTouch, type Reached, reachDown } from "./limb-touch.ts";
import { movesOf, nearMiss } from "./limb-way.ts";
import { HANG_COLUMNS, writeHang } from "./load-hang.ts";
import { createServoSupply, type ServoSupply } from "./servo-supply.ts";

/** A flight in which a limb moves, or a load swings. */
export interface LimbFlight extends Standing {
	readonly stepper: Stepper;
	/** Its own numbers at the flight's start, and the kernel made to agree; `servoNm`: what the servos hold their pose with in its trim. */
	begin(kernel: Kernel, own: Float64Array, servoNm?: readonly number[]): void;
	/** The servo of a link goes to an angle from folded, no faster than `rateRadPerSec`. */
	aim(own: Float64Array, link: number, angleRad: number, rateRadPerSec: number): void;
	/** A link moves as measured, points of [time from now, angle from folded]. */
	follow(own: Float64Array, link: number, points: readonly (readonly [number, number])[]): void;
	/** Other loads from here on; `taken` is the one that was at rest and free, or `standing` on the ground. Rewrites x, own and kernel. */
	change(
		kernel: Kernel,
		x: Float64Array,
		own: Float64Array,
		loads: readonly CarriedLoad[],
		taken: boolean,
		down: Vec3,
		standing?: boolean,
	): Plant;
	/** Where a load on the ground would be gripped now. */
	reach(x: Float64Array, own: Float64Array, load: CarriedLoad): Reached;
	/** Where the ground's numbers begin in the stepper's own, and what each contact is called. */
	readonly groundAt: number;
	nameOf(contact: number): string;
	loadTouches(own: Float64Array): boolean;
	/** The grip held where it is by a spring and damper; 0 lets go. */
	hold(stiffnessNPerM: number, dampingNSecPerM: number): void;
	/** Makes the kernel agree after other numbers of the craft were written into it. */
	agree(kernel: Kernel, own: Float64Array): void;
	/** What the servos take from the electronics supply. */
	readonly servos: ServoSupply;
	/** What a recorder writes: each link's angle, then its torque, then its servo's current, then which way each load hangs. */
	readonly columns: readonly string[];
	write(x: Float64Array, own: Float64Array, row: Float64Array, at: number): void;
	/** What the servos went through, sentences. */
	notes(): string[];
	/** What the model does not cover, sentences. */
	outsideModel(): string[];
	/** Angles of the links now. */
	pose(own: Float64Array): number[];
	/** Centre of mass of the whole, body axes; kept up to date. */
	readonly centreM: Vec3;
	readonly massKg: number;
	readonly posture: Posture;
	/** The joints that move by themselves: names of their numbers and places in `own`. */
	live(): (readonly [string, number])[];
}

/** The drill moves the limb, or something swings on the craft in it. */
export function movesLimb(craft: Craft, drill: Drill, loads: readonly CarriedLoad[]): boolean {
	const hangs = craft.load.tether !== undefined || craft.load.liquid !== undefined;
	if (hangs && (loads.length > 0 || drill.events.some(({ kind }) => kind === "takeUp"))) return true;
	if (drill.events.some((event) => event.kind === "takeUp" && event.fromGround)) return true;
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

/** A pendulum that swings farther from straight down than this cannot keep its cord taut by its weight alone. */
const SLACK_DEG = 90;

export function createLimbFlight(spec: LimbFlightSpec): LimbFlight {
	const { craft, point, drill } = spec;
	const links = craft.limb?.links.length ?? 0;
	const pose = poseAt(craft, point);
	const takeUps = drill.events.filter(({ kind }) => kind === "takeUp").length;
	const hangs = craft.load.tether || craft.load.liquid ? 2 : 0;
	const mostLoads = spec.loads.length + takeUps;
	const most = links + hangs * mostLoads;
	const joints = jointStateSize(most);
	const servos = createServoSupply(craft, joints);
	let made = limbTree(craft, spec.loads, pose, spec.down);
	/** The ground is as hard as this craft's feet make it. */
	const built = spec.wired(plantFor(made.tree, made.startRad));
	const touch = createLimbTouch(
		craft,
		built,
		drill.ground ?? LEVEL_GROUND,
		joints + servos.length,
		mostLoads,
	);
	const ownLength = touch.at + touch.length;
	const grip = new Float64Array(GRIP.length);
	const profiles = createJointProfiles(links);
	let ground = touch.groundFor(made, spec.loads, pose);
	let inner = stepperFor(made, made.startRad, limbForces(craft, made, spec.loads, grip), ground);
	let inside = jointStateSize(made.tree.bodies.length);
	const peak = new Float64Array(links);
	const over = new Float64Array(links);
	/** The farthest that a load swung. */
	const swungRad = new Float64Array(1);
	const hang = new Float64Array(HANG_COLUMNS.length);

	function plantFor(tree: JointTree, startRad: readonly number[]): Plant {
		return plantOf(craft, point, wholeAt(tree, startRad));
	}

	function stepperFor(
		tree: LimbTree,
		startRad: readonly number[],
		acting: LimbForces,
		below: LimbGround,
	): LimbStepper {
		return createLimbStepper({
			plant: spec.wired(plantFor(tree.tree, startRad)),
			tree: tree.tree,
			drives: tree.drives,
			inertiaFactor: point.inertiaFactor,
			startRad,
			profiles,
			forces: acting,
			ground: below,
		});
	}

	const centreM: [number, number, number] = [0, 0, 0];
	const follow = (): void => {
		for (let k = 0; k < 3; k++) centreM[k] = inner.posture.centre[k]!;
	};

	const note = (x: Float64Array, work: Float64Array): void => {
		for (let b = links + 1; b < inner.posture.count; b += 2) {
			writeHang(inner.posture, b, x, hang, 0);
			if (hang[0]! > swungRad[0]!) swungRad[0] = hang[0]!;
		}
		for (let i = 0; i < links; i++) {
			const torque = Math.abs(inner.torques[i]!);
			if (torque > peak[i]!) peak[i] = torque;
			if (torque >= craft.limb!.links[i]!.servo.torqueLimitNm * (1 - 1e-9)) over[i]! += work[WORK_STEP]!;
		}
	};

	const stepper: Stepper = {
		ownLength,
		idle: () => false,
		step(kernel, x, u, air, outside, own) {
			inner.step(kernel, x, u, air, outside, own);
			servos.hold(own, inner.torques);
			servos.draw(kernel, own);
			note(x, kernel.work);
			touch.watch(ground, own, JOINT.blocks * inner.posture.count);
			follow();
		},
	};

	return {
		stepper,
		columns: [
			...(craft.limb?.links ?? []).map((_, i) => `limbAngle${i}`),
			...(craft.limb?.links ?? []).map((_, i) => `limbTorque${i}`),
			...(craft.limb?.links ?? []).map((_, i) => `limbCurrent${i}`),
			...(hangs
				? Array.from({ length: mostLoads }, (_, i) => HANG_COLUMNS.map((name) => `${name}${i}`)).flat()
				: []),
		],
		centreM,
		get massKg() {
			return inner.posture.massKg;
		},
		get posture() {
			return inner.posture;
		},
		begin(kernel, own, servoNm = []) {
			inner.begin(kernel, own, made.startRad);
			touch.clear(own);
			if (made.drives.some(({ kind }) => kind === "soft")) {
				preload(made.drives, servoNm, own);
				inner.refresh(kernel, own);
			}
			inner.torques.set(servoNm);
			servos.hold(own, servoNm);
			servos.draw(kernel, own);
			follow();
		},
		rest(x, own) {
			const arms = ground.armsAt(inner.posture);
			const below = touch.belowFeet(arms);
			if (below) return below;
			return restPose(ground.contacts, arms, built, drill.ground ?? LEVEL_GROUND, x, own);
		},
		holdFoot: (own, foot, holdN) => holdFoot(ground.contacts, craft.airframe.feetM.length, own, foot, holdN),
		groundAt: touch.at,
		nameOf: touch.nameOf,
		loadTouches: touch.loadTouches,
		reach: (x, own, load) => reachDown(craft, touch, load, Array.from(own.subarray(0, links)), centreM, x),
		aim: (own, link, angleRad, rate) => inner.aim(own, link, angleRad, rate),
		servos,
		agree(kernel, own) {
			inner.refresh(kernel, own);
			servos.draw(kernel, own);
			follow();
		},
		follow: (own, link, points) => inner.follow(own, link, points),
		hold: (stiffness, damping) => grip.set([stiffness, damping, Number.NaN, Number.NaN, Number.NaN]),
		pose: (own) => Array.from(own.subarray(0, links)),
		write(x, own, row, at) {
			for (let i = 0; i < links; i++) {
				row[at + i] = own[i]!;
				row[at + links + i] = inner.torques[i]!;
				row[at + 2 * links + i] = own[joints + i]!;
			}
			if (!hangs) return;
			const from = at + 3 * links;
			row.fill(0, from, from + HANG_COLUMNS.length * mostLoads);
			for (let b = links + 1; b < inner.posture.count; b += 2)
				writeHang(inner.posture, b, x, row, from + (HANG_COLUMNS.length * (b - links - 1)) / 2);
		},
		change(kernel, x, own, loads, taken, down, standing = false) {
			const n = made.tree.bodies.length;
			const rates = new Float64Array(3);
			bodyRates(kernel, x, rates);
			const spin = rotorSpin(kernel, x);
			const angles = Array.from(own.subarray(0, n));
			const kept = taken ? n : links;
			const next = stillHanging(limbTree(craft, loads, angles.slice(0, links), down), links, kept, made);
			const all = next.tree.bodies.length;
			const startRad = next.startRad.map((v, i) => (i < kept ? angles[i]! : v));
			const before = { tree: made.tree, joints: own.slice(0, 2 * n), extra: new Float64Array(9) };
			const after = { tree: next.tree, joints: new Float64Array(2 * all), extra: new Float64Array(9) };
			after.joints.set(startRad);
			for (let i = 0; i < kept; i++) after.joints[all + i] = own[n + i]!;
			const below = touch.groundFor(next, loads, startRad);
			const stepperNext = stepperFor(next, startRad, limbForces(craft, next, loads, grip), below);
			before.extra.set(inner.extraInertia);
			after.extra.set(stepperNext.extraInertia);
			const load = loads[loads.length - 1];
			const loose = made.drives.map(({ kind }, i) => kind !== "servo" && !profiles.leads(i));
			if (taken && load) joinLoad(before, after, placeOf(craft, load, startRad, down), spin, x, loose);
			else leaveLoad(before, after, [rates[0]!, rates[1]!, rates[2]!], spin, x);
			const old = own.slice(0, inside);
			own.fill(0, 0, joints);
			const held = touch.at + ownSize(below.contacts.count);
			own.fill(0, held, ownLength);
			for (let block = 0; block < JOINT.blocks; block++)
				for (let i = 0; i < Math.min(kept, all); i++) own[block * all + i] = old[block * n + i]!;
			own.set(after.joints, 0);
			own[JOINT.blocks * all] = old[JOINT.blocks * n]!;
			stepperNext.torques.set(inner.torques.subarray(0, links));
			made = next;
			inner = stepperNext;
			ground = below;
			inside = jointStateSize(all);
			inner.refresh(kernel, own);
			follow();
			if (standing && load) {
				bodyRates(kernel, x, rates);
				ground.place(inner.posture, x, rates, Float64Array.from(turnOf(x)));
				touch.stand(ground, own, load.massKg);
			}
			return { ...spec.wired(plantFor(next.tree, startRad)), centreOfMassM: centreM };
		},
		live() {
			const n = made.tree.bodies.length;
			return made.drives.flatMap(({ kind }, i) =>
				kind === "servo"
					? []
					: ([
							[`joint ${i} angle`, i],
							[`joint ${i} speed`, n + i],
						] as const),
			);
		},
		outsideModel() {
			const said: string[] = [];
			const degrees = (swungRad[0]! * 180) / Math.PI;
			if (craft.load.tether && degrees > SLACK_DEG)
				said.push(
					`the load swung by ${degrees.toFixed(0)} deg: the tether is a rod in the model, a cord goes slack beyond ${SLACK_DEG} deg or sooner`,
				);
			const miss = pose.some((angle) => angle !== 0) ? nearMiss(craft, pose, movesOf(drill)) : null;
			if (miss)
				said.push(
					`'${miss.of}' came within ${(1000 * Math.max(0, miss.metres)).toFixed(0)} mm of the ${miss.rotor} propeller's disc at ${miss.atSec.toFixed(2)} s: what they do to each other is not in the model`,
				);
			return said;
		},
		notes: () => [
			...touch.notes(),
			...(craft.limb?.links ?? []).flatMap(({ name, servo }, i) => {
				const said = `servo of '${name}': up to ${peak[i]!.toFixed(2)} of its ${servo.torqueLimitNm.toFixed(2)} N m (${((100 * peak[i]!) / servo.torqueLimitNm).toFixed(0)} %), ${servoAmperes(servo, peak[i]!).toFixed(1)} A`;
				return peak[i]! > 0
					? [over[i]! > 0 ? `${said}; overpowered for ${over[i]!.toFixed(2)} s` : said]
					: [];
			}),
		],
	};
}

const turnOf = (x: Float64Array) => toMatrix([x[6]!, x[7]!, x[8]!, x[9]!]);

/** Angular momentum of the rotors in the airframe, body axes. */
function rotorSpin(kernel: Kernel, x: Float64Array): Vec3 {
	const spin = [0, 0, 0];
	for (let i = 0; i < kernel.rotorCount; i++)
		for (let k = 0; k < 3; k++) spin[k]! += kernel.p[HEAD_SIZE + ROTOR_STRIDE * i + 12 + k]! * x[ROTORS + i]!;
	return [spin[0]!, spin[1]!, spin[2]!];
}

/** What already hangs keeps the hinges that its angles are counted from. */
function stillHanging(next: LimbTree, links: number, kept: number, before: LimbTree): LimbTree {
	const bodies = next.tree.bodies.map((body, i) => (i >= links && i < kept ? before.tree.bodies[i]! : body));
	return { ...next, tree: { ...next.tree, bodies } };
}

/** Where a load's centre is as it is taken up, body axes. */
function placeOf(craft: Craft, load: CarriedLoad, poseRad: readonly number[], down: Vec3): Vec3 {
	const held = load.inGrip && craft.limb ? gripPlace(craft.limb, poseRad, load.positionM) : load.positionM;
	const { tether } = craft.load;
	return tether ? vec3.add(held, vec3.scale(down, load.cordM ?? tether.lengthM)) : held;
}
