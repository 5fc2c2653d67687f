import { gripPlace, linkPlaces } from "../craft/limb-pose.ts";
import type { Craft } from "../craft/model.ts";
import * as mat3 from "../math/mat3.ts";
import { toMatrix } from "../math/quaternion.ts";
import type { Mat3, Quat, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import {
	createContacts,
	FOOT_STRIDE,
	FOOT_TOUCHES,
	OWN_FEET,
	OWN_SINCE,
	ownSize,
	pointAt,
} from "../physics/contact-law.ts";
import { downhill, type GroundSpec, groundNormal } from "../physics/ground-spec.ts";
import {
	LOAD_CONTACTS,
	limbContacts,
	loadContacts,
	loadSizeM,
	type NamedContact,
} from "../physics/limb-contacts.ts";
import { createLimbGround, type LimbGround } from "../physics/limb-ground.ts";
import type { CarriedLoad, LimbTree } from "../physics/limb-tree.ts";
import type { Plant } from "../physics/plant.ts";
import { placeWords } from "./touch-names.ts";

/** What of a craft with a limb meets the ground in one flight: feet first, then ends of links, grip, corners of loads. */
export interface LimbTouch {
	/** Where its numbers begin in the stepper's own, and how many it may have. */
	readonly at: number;
	readonly length: number;
	/** Into `own` at the start: touching nothing, long ago. */
	clear(own: Float64Array): void;
	/** For a tree that carries these loads; those it has seen before keep their corners. */
	groundFor(made: LimbTree, loads: readonly CarriedLoad[], poseRad: readonly number[]): LimbGround;
	nameOf(contact: number): string;
	/** Why the craft cannot begin on its feet: something hangs below them; else ''. `arms`: LimbGround.armsAt. */
	belowFeet(arms: Float64Array): string;
	/** The newest load's lower corners carry its weight already, in `own`; points placed. */
	stand(ground: LimbGround, own: Float64Array, massKg: number): void;
	/** What touched first, sentences. Watching allocates nothing. */
	watch(ground: LimbGround, own: Float64Array, clock: number): void;
	notes(): string[];
	/** Whether any corner of any load touches. */
	loadTouches(own: Float64Array): boolean;
	/** Where the middle of a load that stands on the ground is, above it. */
	standsAtM(massKg: number): number;
	readonly normal: Vec3;
}

export function createLimbTouch(
	craft: Craft,
	plant: Plant,
	spec: GroundSpec,
	at: number,
	mostLoads: number,
): LimbTouch {
	const { feetM } = craft.airframe;
	const normal = groundNormal(spec);
	const weightN = plant.massKg * plant.gravityMPerSec2;
	const fixed: readonly NamedContact[] = [
		...feetM.map((placeM) => ({ name: `${placeWords(placeM)} foot`, body: -1, placeM })),
		...limbContacts(craft),
	];
	const most = fixed.length + LOAD_CONTACTS * mostLoads;
	let corners: readonly NamedContact[][] = [];
	let names: readonly string[] = fixed.map(({ name }) => name);
	/** Per contact, feet left out: when it first touched, s (below 0: not yet), and how fast, m/s. */
	const first = new Float64Array(2 * most).fill(-1);
	const contactsOf = (count: number) =>
		createContacts(count, at, feetM.length, weightN, plant.massKg, spec, normal);
	const stiffness = contactsOf(1).stiffness;
	/** Of a standing load, N at each of its four lower corners. */
	const pushAt = (massKg: number): number => (massKg * plant.gravityMPerSec2 * Math.cos(spec.slopeRad)) / 4;
	return {
		at,
		length: ownSize(most),
		normal,
		clear(own) {
			own.fill(0, at, at + ownSize(most));
			own[at + OWN_SINCE] = 1e9;
		},
		groundFor(made, loads, poseRad) {
			corners = loads.map((each, i) => corners[i] ?? loadContacts(craft, made, each, i, poseRad));
			const all = [...fixed, ...corners.flat()];
			names = all.map(({ name }) => name);
			return createLimbGround(made.tree, all, contactsOf(all.length));
		},
		nameOf: (contact) => names[contact] ?? "load",
		belowFeet(arms) {
			const feet = Math.max(...feetM.map((_, i) => arms[3 * i + 2]!));
			for (let i = feetM.length; 3 * i < arms.length; i++) {
				const lower = arms[3 * i + 2]! - feet;
				if (lower > 0)
					return `the ${names[i]} hangs ${(1000 * lower).toFixed(0)} mm below its feet, expected above them`;
			}
			return "";
		},
		stand({ contacts }, own, massKg) {
			const slide = Math.min(Math.tan(spec.slopeRad), spec.friction);
			const back = vec3.scale(downhill(spec), (slide * pushAt(massKg)) / stiffness);
			for (let i = contacts.count - LOAD_CONTACTS / 2; i < contacts.count; i++) {
				const mine = at + OWN_FEET + FOOT_STRIDE * i;
				for (let k = 0; k < 3; k++) own[mine + k] = contacts.at[pointAt(i) + k]! - back[k]!;
				own[mine + FOOT_TOUCHES] = 1;
			}
		},
		watch({ contacts }, own, clock) {
			for (let i = feetM.length; i < contacts.count; i++) {
				if (first[2 * i]! >= 0 || contacts.arrivals[i]! < 0) continue;
				first[2 * i] = own[clock]!;
				first[2 * i + 1] = contacts.arrivals[i]!;
			}
		},
		notes() {
			const told = new Map<string, readonly [number, number]>();
			for (let i = feetM.length; i < most; i++) {
				const [sec, speed] = [first[2 * i]!, first[2 * i + 1]!];
				const name = i < fixed.length ? names[i]! : "load";
				if (sec >= 0 && sec < (told.get(name)?.[0] ?? Number.POSITIVE_INFINITY)) told.set(name, [sec, speed]);
			}
			return [...told].map(
				([name, [sec, speed]]) =>
					`the ${name} touched the ground at ${sec.toFixed(2)} s, arriving at ${speed.toFixed(2)} m/s`,
			);
		},
		loadTouches(own) {
			for (let i = fixed.length; i < most; i++)
				if (own[at + OWN_FEET + FOOT_STRIDE * i + FOOT_TOUCHES]! > 0) return true;
			return false;
		},
		standsAtM: (massKg) => loadSizeM(craft.load) / 2 - pushAt(massKg) / stiffness,
	};
}

/** A load on the ground below where it would be held. */
export interface Reached {
	/** Gripped where it stands: its place moved along the ground's normal, its cube flat on the ground. */
	readonly load: CarriedLoad;
	/** How far the place where it would be held is above its middle as it stands. */
	readonly aboveM: number;
	/** Its middle as it stands, world. */
	readonly middleM: Vec3;
	/** The place where it would be held, world. */
	readonly heldM: Vec3;
}

/** What the grip (or the frame) finds below it where a load of this mass stands. `centreM`: of the whole, body axes; x: the kernel's state. */
export function reachDown(
	{ limb }: Craft,
	touch: LimbTouch,
	each: CarriedLoad,
	poseRad: readonly number[],
	centreM: Vec3,
	x: Float64Array,
): Reached {
	const { normal } = touch;
	const turn = toMatrix([x[6]!, x[7]!, x[8]!, x[9]!] as Quat);
	const inGrip = each.inGrip === true && limb !== undefined;
	const atM = inGrip ? gripPlace(limb, poseRad, each.positionM) : each.positionM;
	const heldM = vec3.add([x[0]!, x[1]!, x[2]!], mat3.times(turn, vec3.subtract(atM, centreM)));
	const aboveM = dot(normal, heldM) - touch.standsAtM(each.massKg);
	const middleM = vec3.subtract(heldM, vec3.scale(normal, aboveM));
	const down = vec3.scale(normal, -1);
	const nose: Vec3 = [turn[0], turn[3], turn[6]];
	const flat = vec3.subtract(nose, vec3.scale(normal, dot(nose, normal)));
	const ahead = vec3.scale(flat, 1 / vec3.length(flat));
	const side = vec3.cross(down, ahead);
	const box: Mat3 = [ahead[0], side[0], down[0], ahead[1], side[1], down[1], ahead[2], side[2], down[2]];
	const inBody = mat3.multiply(mat3.transpose(turn), box);
	const there = vec3.subtract(atM, vec3.scale(mat3.times(mat3.transpose(turn), normal), aboveM));
	if (!inGrip) return { load: { ...each, positionM: there, turn: inBody }, aboveM, middleM, heldM };
	const last = limb.links.length - 1;
	const { turn: linkTurn, hingeM } = linkPlaces(limb, poseRad)[last]!;
	const back = mat3.transpose(linkTurn);
	const positionM = vec3.add(limb.links[last]!.hingeM, mat3.times(back, vec3.subtract(there, hingeM)));
	return { load: { ...each, positionM, turn: mat3.multiply(back, inBody) }, aboveM, middleM, heldM };
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
