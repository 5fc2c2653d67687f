import { linearise, settled } from "../analysis/linearise.ts";
import { marginsWithDisk } from "../analysis/margins-report.ts";
import type { DiskReport, MarginsBrief } from "../analysis/report-types.ts";
import type { Margin } from "../analysis/scalar-loop-types.ts";
import { AXES, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { limbAmperes } from "../craft/servo-current.ts";
import type { Vec3 } from "../math/types.ts";
import type { Limits } from "./characters.ts";
import type { ReachPose } from "./reach-pose.ts";

/** What a craft has left in steady hover at one pose with one load in the grip. */
export interface ReachStatics {
	readonly massKg: number;
	/** Per rotor: command, and what it is above that of the bare craft with its limb folded. */
	readonly commands: readonly number[];
	readonly shift: readonly number[];
	readonly tiltRad: number;
	readonly centreOfMassM: Vec3;
	/** xy, xz, yz about the centre of the whole. */
	readonly productsKgM2: Vec3;
	/** To hold the pose, per link. */
	readonly servoNm: readonly number[];
	readonly servoA: number;
	readonly broken: readonly Broken[];
}

export interface ReachMargins {
	readonly brief: MarginsBrief;
	readonly disk: DiskReport;
	readonly broken: readonly Broken[];
}

/** A limit that does not hold. */
export interface Broken {
	readonly what: string;
	/** Which of a character's limits it is, if one of them. */
	readonly of?: keyof Limits;
	readonly value: number;
	readonly limit: number;
}

type Failed = { readonly reason: string };
export const failed = (answer: object): answer is Failed => "reason" in answer;

/** Of full command, free above every motor, and half as much above its lowest spin, for gusts and for the loop itself: common practice, no source. */
export const LEAST_HEADROOM = 0.15;
/** Of a servo's torque, beyond which little is left for moving the limb: common practice, no source. */
export const MOST_SERVO_SHARE = 0.5;

export interface Reach {
	statics(poseRad: readonly number[], massKg: number): ReachStatics | Failed;
	margins(poseRad: readonly number[], massKg: number): ReachMargins | Failed;
}

/** Answers about one craft, gain set and operating point (apart from pose and load). @throws RangeError where it cannot hover with the limb folded. */
export function createReach(craft: Craft, set: GainSet, limits: Limits, base: OperatingPoint): Reach {
	const pointAt = (limbRad: readonly number[], massKg: number): OperatingPoint => ({
		...base,
		limbRad,
		load: massKg > 0 ? { massKg } : "none",
	});
	const folded = settled(
		craft,
		pointAt(
			(craft.limb?.links ?? []).map(() => 0),
			0,
		),
	);
	if (!folded.result.feasible)
		throw new RangeError(`reach: no hover with the limb folded: ${folded.result.reason}`);
	const bare = Array.from(folded.result.trim.commands);
	return {
		statics(poseRad, massKg) {
			const point = pointAt(poseRad, massKg);
			const { plant, result, servoNm } = settled(craft, point);
			if (!result.feasible) return { reason: result.reason };
			const commands = Array.from(result.trim.commands);
			const j = plant.inertiaKgM2;
			const state = {
				massKg,
				commands,
				shift: commands.map((c, i) => c - bare[i]!),
				tiltRad: Math.hypot(result.trim.eulerRad[0], result.trim.eulerRad[1]),
				centreOfMassM: plant.centreOfMassM,
				productsKgM2: [j[1], j[2], j[5]] as const,
				servoNm,
				servoA: limbAmperes(craft.limb?.links ?? [], servoNm),
			};
			return { ...state, broken: brokenStatics(craft, state) };
		},
		margins(poseRad, massKg) {
			const found = linearise(craft, pointAt(poseRad, massKg));
			if (!found.feasible) return { reason: found.reason };
			const answer = marginsWithDisk(craft, set, found.linear);
			return { ...answer, broken: brokenMargins(answer.brief, limits) };
		},
	};
}

function brokenStatics(craft: Craft, state: Omit<ReachStatics, "broken">): Broken[] {
	const broken: Broken[] = [];
	state.commands.forEach((command, i) => {
		const { place } = craft.rotors[i]!;
		const up = 1 - command;
		const down = command - craft.mixer.lowestSpin;
		if (up < LEAST_HEADROOM)
			broken.push({ what: `${place} motor to full command`, value: up, limit: LEAST_HEADROOM });
		if (down < LEAST_HEADROOM / 2)
			broken.push({ what: `${place} motor to lowest spin`, value: down, limit: LEAST_HEADROOM / 2 });
	});
	craft.limb!.links.forEach(({ name, servo }, i) => {
		const share = Math.abs(state.servoNm[i]!) / servo.torqueLimitNm;
		if (share > MOST_SERVO_SHARE)
			broken.push({ what: `servo of '${name}', share of its torque`, value: share, limit: MOST_SERVO_SHARE });
	});
	const { supply, battery } = craft;
	const whole = battery.avionicsPowerW / supply.outputV + state.servoA;
	if (whole > supply.limitA)
		broken.push({ what: "electronics supply, A", value: whole, limit: supply.limitA });
	return broken;
}

/** The limits that margins do not keep. */
export function brokenMargins({ axes, periodic }: MarginsBrief, limits: Limits): Broken[] {
	if (!periodic.stable)
		return [{ what: "unstable: largest eigenvalue of the loop", value: periodic.spectralRadius, limit: 1 }];
	const broken: Broken[] = [];
	for (const axis of AXES)
		for (const opening of ["rateLoop", "wholeAxis", "angleLoop"] as const) {
			const loop = axes[axis][opening];
			if (!loop) continue;
			const judge = (of: keyof Limits, words: string, margin: Margin): void => {
				const what = `${axis}, ${words}`;
				const limit = limits[of];
				const most = of === "ms" || of === "mt";
				if (margin.value === null) {
					if (margin.verdict === "undefined") broken.push({ what, of, value: 0, limit });
				} else if (most ? margin.value > limit : margin.value < limit)
					broken.push({ what, of, value: margin.value, limit });
			};
			judge("gainMarginUpDb", "gain margin up, dB", loop.gainMarginUpDb);
			judge("gainMarginDownDb", "gain margin down, dB", loop.gainMarginDownDb);
			judge("phaseMarginDeg", "phase margin, deg", loop.phaseMarginDeg);
			judge("ms", "Ms", loop.ms);
			if (opening === "angleLoop" && axis !== "yaw") judge("mt", "Mt", loop.mt);
		}
	return broken;
}

export interface HeaviestAt {
	readonly pose: ReachPose;
	/** The heaviest load with which motors, servos and supply keep their reserve; null where they do not even without one. */
	readonly byReserveKg: number | null;
	/** The heaviest that is no heavier than that, and with which the margins hold too. */
	readonly heaviestKg: number | null;
	/** What stops it; empty where nothing does up to the most that was tried. */
	readonly stops: string;
}

/** Halvings of the load tried at each pose. */
const HALVINGS = 8;

/**
 * The heaviest load at a pose, tried up to `mostKg` and found to 1/256 of it. Reserve falls with every gram, so halving finds its end; margins need not, so the loads below are walked
 * in quarters, and the first quarter that breaks is halved.
 */
export function heaviestAt(reach: Reach, pose: ReachPose, mostKg: number): HeaviestAt {
	if (pose.refused) return { pose, byReserveKg: null, heaviestKg: null, stops: pose.refused };
	const why = (answer: ReachStatics | ReachMargins | Failed): string => {
		if (failed(answer)) return answer.reason;
		const [first] = answer.broken;
		return first
			? `${first.what} ${Number(first.value.toPrecision(3))}, limit ${Number(first.limit.toPrecision(3))}`
			: "";
	};
	const reserve = lastGood((kg) => why(reach.statics(pose.poseRad, kg)), [0, mostKg]);
	if (reserve.good === null) return { pose, byReserveKg: null, heaviestKg: null, stops: reserve.why };
	const top = reserve.good;
	const walk = top > 0 ? [0, 0.25 * top, 0.5 * top, 0.75 * top, top] : [0];
	const margin = lastGood((kg) => why(reach.margins(pose.poseRad, kg)), walk);
	return {
		pose,
		byReserveKg: top,
		heaviestKg: margin.good,
		stops: margin.why === "" ? reserve.why : margin.why,
	};
}

/** The largest number up to which `why` stays empty along the walk, refined by halving, and why it is not larger. */
function lastGood(
	whyAt: (kg: number) => string,
	walk: readonly number[],
): { readonly good: number | null; readonly why: string } {
	let good: number | null = null;
	for (const kg of walk) {
		let why = whyAt(kg);
		if (why === "") {
			good = kg;
			continue;
		}
		if (good === null) return { good, why };
		let bad = kg;
		let best: number = good;
		for (let i = 0; i < HALVINGS; i++) {
			const middle = (best + bad) / 2;
			const there = whyAt(middle);
			if (there === "") best = middle;
			else {
				bad = middle;
				why = there;
			}
		}
		return { good: best, why };
	}
	return { good, why: "" };
}
