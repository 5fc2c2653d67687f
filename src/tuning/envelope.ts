import { corners as cornersOf } from "../analysis/corners.ts";
import type { GainSet } from "../control/spec.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightStatus } from "../flight/result.ts";
import { loadsAt } from "../physics/plant-at.ts";
import type { Limits } from "./characters.ts";
import { type Broken, createReach, failed } from "./reach.ts";
import { frozenPoses, type ReachPose, reachPoses } from "./reach-pose.ts";

const DEG = 180 / Math.PI;

/** Margins frozen at a pose with a load. */
export interface FrozenPose {
	readonly pose: ReachPose;
	readonly massKg: number;
	readonly stable: boolean;
	/** Of all axes together: phase and gain that they may lose; null where unstable. */
	readonly diskPhaseDeg: number | null;
	readonly diskGainDb: number | null;
	readonly broken: readonly Broken[];
	/** Empty, or why it cannot hover so. */
	readonly why: string;
}

/** The limb at its servos' full speed in one corner: out and home, or out, a load taken up or let go there, and home. */
interface EnvelopeFlight {
	readonly corner: string;
	readonly kind: "swing" | "takeUp" | "letGo";
	readonly load: "none" | "heaviest";
	readonly status: FlightStatus;
	readonly reason: string;
	readonly mostTiltDeg: number;
}

export interface EnvelopeProof {
	readonly frozen: readonly FrozenPose[];
	/** The one with the least phase to lose; null where none can hover. */
	readonly worst: FrozenPose | null;
	readonly flights: readonly EnvelopeFlight[];
	/** The flight that leant most again, with all of what limb and load ask for fed forward (`limbLead` 1); null where it did not end well. */
	readonly leadTiltDeg: number | null;
}

/** Out to the farthest pose and home again, both as fast as the servos go; the load, if any, is in the grip from the start. */
function swingDrill(craft: Craft, change: DrillEvent | null = null): Drill {
	const poses = reachPoses(craft, 13).filter(({ refused }) => refused === "");
	const far = poses[poses.length - 1]!;
	const slowest = Math.max(
		...craft.limb!.links.map(({ servo }, i) => Math.abs(far.poseRad[i]!) / servo.rateLimitRadPerSec),
	);
	const home = 0.5 + slowest + 1.5;
	return {
		name: "swing out and home at full speed",
		about: "the limb at its servos' full speed, out and home",
		durationSec: home + slowest + 2,
		heightM: 200,
		seed: 1,
		events: [
			...far.poseRad.map((angleRad, link) => ({ atSec: 0.5, kind: "limb" as const, link, angleRad })),
			...(change ? [{ ...change, atSec: 0.5 + slowest + 0.75 }] : []),
			...far.poseRad.map((_, link) => ({ atSec: home, kind: "limb" as const, link, angleRad: 0 })),
		],
		wind: STILL_AIR,
	};
}

/**
 * What one gain set does over the whole reach: margins frozen at 21 poses without and with the heaviest load, and the limb swung out and home at full speed in
 * every hover corner, and again with the load taken up, or let go, at the farthest pose: gains that follow pose and load change there. Yields after each step, so that the caller can show how far it is.
 */
export function* proveEnvelope(
	craft: Craft,
	set: GainSet,
	limits: Limits,
): Generator<{ readonly done: number; readonly of: number }, EnvelopeProof> {
	const reach = createReach(craft, set, limits, NOMINAL_POINT);
	const poses = frozenPoses(craft);
	const heaviest = craft.load.massKg;
	const masses = heaviest > 0 ? (set.schedule ? [0, heaviest / 2, heaviest] : [0, heaviest]) : [0];
	const folded = craft.limb!.links.map(() => 0);
	const corners = cornersOf(craft).filter(({ point }) => point.throttle === "hover");
	const of = poses.length * masses.length + corners.length;
	let done = 0;
	const frozen: FrozenPose[] = [];
	for (const pose of poses)
		for (const massKg of masses) {
			const answer = reach.margins(pose.poseRad, massKg);
			frozen.push(
				failed(answer)
					? {
							pose,
							massKg,
							stable: false,
							diskPhaseDeg: null,
							diskGainDb: null,
							broken: [],
							why: answer.reason,
						}
					: {
							pose,
							massKg,
							stable: answer.brief.periodic.stable,
							diskPhaseDeg: answer.disk.phaseDeg,
							diskGainDb: answer.disk.gainDb,
							broken: answer.broken,
							why: "",
						},
			);
			done++;
			yield { done, of };
		}
	const swing = swingDrill(craft);
	const swung = (point: OperatingPoint, gainSet: GainSet, drill = swing) => {
		const { status, reason, trace } = fly({
			craft,
			point: { ...point, limbRad: folded },
			gainSet,
			drill,
			options: { noise: false, rounding: false, recordPeriodUs: 10000 },
		});
		const roll = trace.columns["roll"]!;
		const pitch = trace.columns["pitch"]!;
		let most = 0;
		for (let i = 0; i < trace.length; i++)
			most = Math.max(most, Math.acos(Math.cos(roll[i]!) * Math.cos(pitch[i]!)));
		return { status, reason, mostTiltDeg: most * DEG };
	};
	const flights: EnvelopeFlight[] = [];
	for (const { name, point } of corners) {
		const load = point.load === "heaviest" ? "heaviest" : "none";
		flights.push({ corner: name, kind: "swing", load, ...swung(point, set) });
		if (heaviest > 0) {
			const [taken] = loadsAt(craft, { ...point, load: "heaviest", limbRad: folded });
			const change: DrillEvent =
				load === "none"
					? { atSec: 0, kind: "takeUp", massKg: taken!.massKg, positionM: taken!.positionM, inGrip: true }
					: { atSec: 0, kind: "letGo" };
			const kind = load === "none" ? "takeUp" : "letGo";
			flights.push({ corner: name, kind, load, ...swung(point, set, swingDrill(craft, change)) });
		}
		done++;
		yield { done, of };
	}
	const swings = flights.filter(({ kind }) => kind === "swing");
	const leant = swings.reduce((a, b, i) => (b.mostTiltDeg > swings[a]!.mostTiltDeg ? i : a), 0);
	const led = swung(corners[leant]!.point, { ...set, limbLead: 1 });
	const room = (each: FrozenPose): number => each.diskPhaseDeg ?? -1;
	const worst = frozen.reduce<FrozenPose | null>(
		(least, each) => (least === null || room(each) < room(least) ? each : least),
		null,
	);
	return { frozen, worst, flights, leadTiltDeg: led.status === "completed" ? led.mostTiltDeg : null };
}
