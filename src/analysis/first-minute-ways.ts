import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type Drill, type DrillEvent, LEVEL_GROUND, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightResult } from "../flight/result.ts";
import { benchCreep } from "./bench-creep.ts";
import { firstFall } from "./first-fall.ts";
import { AGAIN } from "./first-minute-again.ts";
import { hoverTrim } from "./hover.ts";
import { longestStall, STALL_SEEDS } from "./longest-stall.ts";
import type { WayLost } from "./way-lost.ts";

const DEG = Math.PI / 180;
const RECORD = { recordPeriodUs: 1000 };

interface Flying {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly gainSet: GainSet;
}

const drill = (durationSec: number, events: readonly DrillEvent[], change: Partial<Drill> = {}): Drill => ({
	name: "first minute",
	about: "",
	durationSec,
	heightM: 3,
	seed: 1,
	events,
	wind: STILL_AIR,
	...change,
});

function ramp(fromSec: number, overSec: number, from: number, to: number): DrillEvent[] {
	const steps = 40;
	return Array.from({ length: steps }, (_, i) => ({
		atSec: fromSec + (overSec * (i + 1)) / steps,
		kind: "throttle" as const,
		throttle: 0,
		ofHover: from + ((to - from) * (i + 1)) / steps,
	}));
}

const sentence = (text: string): string => `${text[0]!.toUpperCase()}${text.slice(1)}.`;

/** What was flown, told from `fromSec` on. */
function told(
	flight: FlightResult,
	fromSec: number,
	since: string,
): Pick<WayLost, "lost" | "lostSec" | "first"> {
	const fall = firstFall(flight.trace, fromSec, since, flight.status === "tippedOver");
	const ended = flight.status !== "completed";
	const lost = ended || fall.fallSec !== null;
	const lostSec = lost
		? Math.min(
				fall.fallSec ?? Number.POSITIVE_INFINITY,
				ended ? flight.timeSec - fromSec : Number.POSITIVE_INFINITY,
			)
		: null;
	const end =
		ended && fall.fallSec === null
			? ` It ends after ${(flight.timeSec - fromSec).toFixed(2)} s: ${flight.reason}.`
			: "";
	return { lost, lostSec, first: sentence(fall.sentence) + end };
}

/** Waiting on a slope with an integral that runs on the ground. */
function waited({ craft, point, gainSet }: Flying): WayLost {
	const runs: GainSet = { ...gainSet, liftOff: null };
	const raiseAt = 10;
	const flight = fly({
		craft,
		point,
		gainSet: runs,
		drill: drill(
			raiseAt + 4,
			[
				{ atSec: 0.2, kind: "makeLive" },
				{ atSec: 0.3, kind: "throttle", throttle: 0, ofHover: 0.5 },
				...ramp(raiseAt, 2, 0.5, 1.15),
			],
			{
				start: "ground",
				heightM: 0,
				ground: { ...LEVEL_GROUND, slopeRad: 5 * DEG, downhillHeadingRad: Math.PI / 2 },
			},
		),
		options: RECORD,
	});
	const held =
		gainSet.liftOff === null
			? "these gains let it run"
			: "these gains hold it; this is what it does in code that does not";
	return {
		way: "integral-on-ground",
		title: "integral running on the ground, ten seconds on a 5 deg slope",
		often: 1,
		...told(flight, raiseAt, " after throttle goes up"),
		bench: `${benchCreep(craft, runs)} A loop that holds it until lift-off keeps every motor where it was (${held}).`,
		again: AGAIN["integral-on-ground"](gainSet),
	};
}

/** A loop that stops for half a second longer than it bears. */
function stalled({ craft, point, gainSet }: Flying): WayLost[] {
	return (["roll", "pitch"] as const).slice(0, 1).map((axis) => {
		const found = longestStall(craft, point, gainSet, axis);
		const bears = found.survivesMs;
		return {
			way: "loop-stall",
			title: bears === null ? "loop stopped" : `loop stopped for more than ${bears} ms`,
			often: 2,
			lost: bears !== null,
			lostSec: bears === null ? null : bears * 1e-3,
			first:
				bears === null
					? sentence(found.why)
					: `${sentence(`commands stand still, the craft goes on as it was turning: ${found.beyond}`)} Stopped for up to ${bears} ms it was caught again, in a 5 deg step and in ${STALL_SEEDS} hovers with noise.`,
			bench: `Propellers off: log the time between ticks while it writes its card, loses its radio and reads every sensor: no gap may come near ${bears ?? "that"} ms.`,
			again: AGAIN["loop-stall"](),
		};
	});
}

/** The transmitter goes silent while the craft leans and climbs a little. */
function silent({ craft, point, gainSet }: Flying): WayLost {
	const flight = fly({
		craft,
		point,
		gainSet,
		drill: drill(
			20,
			[
				{ atSec: 0.3, kind: "angle", axis: "roll", angleRad: 8 * DEG },
				{ atSec: 0.3, kind: "throttle", throttle: 0, ofHover: 0.97 },
				{ atSec: 1, kind: "framesLost", durationSec: 19 },
			],
			{ heightM: 5 },
		),
		options: RECORD,
	});
	const east = flight.trace.columns["east"]!;
	const gone = Math.abs(east[east.length - 1]!);
	const { onSignalLoss } = craft.safety;
	const does = flight.notes[0] ?? "";
	const ended = flight.status !== "completed";
	return {
		way: "signal-lost",
		title: "radio silent while it leans 8 deg",
		often: 2,
		lost: ended || gone > 30,
		lostSec: ended ? flight.timeSec - 1 : gone > 30 ? 19 : null,
		first: `Nothing to see in the first 300 ms: ${does || "the last sticks hold"}; ${gone.toFixed(0)} m away ${(flight.timeSec - 1).toFixed(1)} s later${ended ? `, where ${flight.reason}` : ""}.`,
		bench: `Propellers off, live, throttle at a quarter: switch the transmitter off. ${onSignalLoss === "keep" ? "With code as the file states it the motors go on as they were: that must not be" : `Within ${(craft.safety.signalLostAfterUs * 1e-6).toFixed(1)} s the motors must do what the file says`}.`,
		again: AGAIN["signal-lost"](),
	};
}

/** Made live with the throttle stick well up, on level ground. */
function jumped({ craft, point, gainSet }: Flying): WayLost {
	const { trim } = trimOf(craft, point);
	const throttle = Math.min(1, 1.3 * trim);
	const flight = fly({
		craft,
		point,
		gainSet,
		drill: drill(
			3,
			[
				{ atSec: 0.2, kind: "throttle", throttle },
				{ atSec: 0.5, kind: "makeLive" },
			],
			{ start: "ground", heightM: 0 },
		),
		options: RECORD,
	});
	const refused = flight.notes[0];
	const down = flight.trace.columns["down"]!;
	const up = (sec: number): number => down[0]! - down[Math.min(down.length - 1, Math.round(sec * 1000))]!;
	const hand = flight.trace.columns["command0"]![Math.min(down.length - 1, 600)]!;
	return {
		way: "live-with-throttle-up",
		title: `made live with the throttle stick at ${(100 * throttle).toFixed(0)} %`,
		often: 2,
		// A craft that leaves the ground by surprise, hands beside it, counts as lost.
		lost: refused === undefined && up(1.5) > 0.3,
		lostSec: refused === undefined && up(1.5) > 0.3 ? 1 : null,
		first:
			refused === undefined
				? `Jumps: motors at ${(100 * hand).toFixed(0)} % within 100 ms, ${(100 * up(0.8)).toFixed(0)} cm up after 300 ms, ${up(1.5).toFixed(1)} m after a second, with hands beside it.`
				: `Nothing turns: ${refused}.`,
		bench:
			"Propellers off: throttle stick at half, make live: no motor may turn until the stick has been all the way down.",
		again: AGAIN["live-with-throttle-up"](),
	};
}

/** Full throttle on a nearly empty battery, electronics on the same cells. */
function sagged({ craft, gainSet, point }: Flying): WayLost {
	const empty: OperatingPoint = { ...point, battery: { stateOfCharge: 0.05 } };
	const flight = fly({
		craft,
		point: empty,
		gainSet,
		drill: drill(3, [{ atSec: 0.5, kind: "throttle", throttle: 1 }], { heightM: 3 }),
		options: RECORD,
	});
	const volts = flight.trace.columns["batteryVoltage"]!;
	const least = volts.reduce((a, b) => Math.min(a, b));
	const lost = flight.status === "brownOut" || flight.status === "hitGround";
	return {
		way: "empty-battery",
		title: "full throttle with 5 % left in the battery",
		often: 2,
		lost,
		lostSec: lost ? flight.timeSec - 0.5 : null,
		first: lost
			? `Rises, then everything stops ${(flight.timeSec - 0.5).toFixed(2)} s after the stick went up: ${flight.reason}.`
			: `Battery from ${volts[0]!.toFixed(1)} to ${least.toFixed(1)} V, the electronics need ${craft.battery.brownOutV.toFixed(1)} V: it holds.`,
		bench: `Measure the battery at rest before every flight; below ${(craft.battery.openCircuitV[0]! + 0.15 * (craft.battery.openCircuitV.at(-1)! - craft.battery.openCircuitV[0]!)).toFixed(1)} V do not fly. A meter that keeps the lowest value shows how far it sags.`,
		again: AGAIN["empty-battery"](),
	};
}

/** A gust while it is light on its feet; a foot held; a slope: the right build, the right gains. */
function hardLiftOffs({ craft, point, gainSet }: Flying): WayLost[] {
	const weightN = craft.bare.massKg * 9.80665;
	const slow = ramp(1, 3, 0, 1.1);
	const live: DrillEvent = { atSec: 0.2, kind: "makeLive" };
	const cases: readonly {
		readonly way: "gust-at-lift-off" | "foot-stuck";
		readonly title: string;
		readonly change: Partial<Drill>;
		readonly more: DrillEvent[];
	}[] = [
		{
			way: "gust-at-lift-off",
			title: "gust of 8 m/s from the side while it is light on its feet",
			change: {
				wind: {
					...STILL_AIR,
					gusts: [{ atSec: 3, velocityMPerSec: [0, 8, 0], riseSec: 0.4, ending: "holds" }],
				},
			},
			more: [],
		},
		{
			way: "foot-stuck",
			title: "one foot stuck with a third of the weight",
			change: {},
			more: [{ atSec: 0.1, kind: "stuckFoot", foot: 0, holdN: weightN / 3 }],
		},
	];
	return cases.map(({ way, title, change, more }) => ({
		way,
		title,
		often: 2 as const,
		...told(
			fly({
				craft,
				point,
				gainSet,
				drill: drill(6, [live, ...more, ...slow], { start: "ground", heightM: 0, ...change }),
				options: RECORD,
			}),
			3,
			" after it gets light",
		),
		bench:
			way === "foot-stuck"
				? "Lift each foot by hand from where it stands: none may cling. Take off from a hard, dry board."
				: "Wait for still air for the first lift-off; go up quickly through the first half metre.",
		again: AGAIN[way](),
	}));
}

function trimOf(craft: Craft, point: OperatingPoint): { readonly trim: number } {
	const { result } = hoverTrim(craft, point);
	return { trim: result.feasible ? result.trim.throttle : 1 };
}

/** Every way that is not a mistake in building. */
export function otherWays(craft: Craft, point: OperatingPoint, gainSet: GainSet): WayLost[] {
	const flying = { craft, point, gainSet };
	const winds = gainSet.roll.ki > 0 || gainSet.pitch.ki > 0;
	return [
		...(winds ? [waited(flying)] : []),
		...stalled(flying),
		silent(flying),
		jumped(flying),
		sagged(flying),
		...hardLiftOffs(flying),
	];
}
