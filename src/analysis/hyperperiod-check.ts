import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint, Timing } from "../craft/model.ts";
import { type Drill, STILL_AIR } from "../flight/drill.ts";
import { createFlight, type Flight } from "../flight/engine.ts";
import { plantAt } from "../physics/plant-at.ts";
import { motorLagAt } from "./linearise.ts";
import { loopRadius } from "./loop-blocks.ts";
import { type TimingChain, timingChain } from "./timing-chain.ts";

export interface HyperperiodCheck {
	/** Largest |eigenvalue| of the flight's own map over one hyperperiod. */
	readonly radius: number;
	/** Within 1e-6 of 1 nothing is decided. */
	readonly verdict: "stable" | "unstable" | "undecided";
	readonly hyperperiodSec: number;
	readonly size: number;
	/** The map itself, size x size, row by row, each coordinate in units of its own size; for checks against the linear analysis. */
	readonly map: Float64Array;
}

const UNDECIDED = 1e-6;
const HEIGHT_M = 1000;

/**
 * Jacobian of the simulator's own flow over one hyperperiod, by central differences about trim: noise, rounding and gusts off, one
 * motor lag, position and heading left out; in rate-only use tilt and velocity too.
 * Unknown phases stand where the linear analysis puts them.
 * @throws RangeError when the clocks do not repeat within a second: a flight then has no map of its own
 */
export function hyperperiodCheck(craft: Craft, set: GainSet, point: OperatingPoint): HyperperiodCheck {
	const chain = timingChain(craft.timing);
	if (chain.rationalised)
		throw new RangeError(`hyperperiodCheck: ${chain.rationalised}; expected clocks that repeat within 1 s`);
	const lag = motorLagAt(plantAt(craft, { ...point, motorLagFactor: 1 }), point);
	const oneLag = {
		...craft,
		propulsion: { ...craft.propulsion, tauUpSec: lag, tauDownSec: lag },
		timing: fixedPhases(craft.timing, chain),
	};
	const span = chain.hyperperiodUs;
	// Long enough for every held value and every value under way to be the loop's own.
	const settle = span * Math.ceil(200_000 / span);
	const drill: Drill = {
		name: "hyperperiod",
		about: "",
		durationSec: (settle + 2 * span) * 1e-6,
		heightM: HEIGHT_M,
		seed: 1,
		events: [],
		wind: STILL_AIR,
	};
	const flight = createFlight({
		craft: oneLag,
		point,
		gainSet: set,
		drill,
		options: { noise: false, rounding: false, recordPeriodUs: 0, maxStepUs: 250 },
	});
	flight.advanceJustBefore(settle);
	const start = flight.snapshot();
	const names = flight.live().map((entry) => entry.name);
	const coordinates = coordinatesOf(names, start, flight, set);
	const n = coordinates.length;
	const map = new Float64Array(n * n);
	const end = (j: number, step: number): Float64Array => {
		const shifted = start.slice();
		coordinates[j]!.move(shifted, step);
		flight.restore(shifted);
		flight.advanceJustBefore(settle + span);
		if (flight.ending) throw new RangeError(`hyperperiodCheck: the flight ended: ${flight.ending.reason}`);
		const place = new Map(flight.live().map((entry) => [entry.name, entry.index]));
		return Float64Array.from(coordinates, (c) => c.read(flight.state, place));
	};
	for (let j = 0; j < n; j++) {
		const h = 1e-4 * coordinates[j]!.size;
		const plus = end(j, h);
		const minus = end(j, -h);
		for (let i = 0; i < n; i++) {
			// In units of each coordinate's size; what is below rounding is nothing.
			const slope = ((plus[i]! - minus[i]!) * coordinates[j]!.size) / (2 * h * coordinates[i]!.size);
			map[i * n + j] = Math.abs(slope) < 1e-9 ? 0 : slope;
		}
	}
	const radius = loopRadius(map, n);
	const verdict = radius < 1 - UNDECIDED ? "stable" : radius > 1 + UNDECIDED ? "unstable" : "undecided";
	return { radius, verdict, hyperperiodSec: span * 1e-6, size: n, map };
}

function fixedPhases(timing: Timing, chain: TimingChain): Timing {
	const { attitude } = timing;
	return {
		...timing,
		gyro: chain.gyro,
		escFrame: chain.frame,
		attitude: attitude.kind === "fused" ? { ...attitude, clock: chain.attitude } : attitude,
	};
}

/** One small-signal coordinate: how to shift it from the start, how to read it at the end. */
interface Coordinate {
	readonly size: number;
	move(state: Float64Array, by: number): void;
	read(state: Float64Array, place: ReadonlyMap<string, number>): number;
}

const POSITION = ["north", "east", "down"];
const VELOCITY = ["velocityNorth", "velocityEast", "velocityDown"];
const TILT = ["qw", "qx", "qy", "qz"];
const ESTIMATE = ["estimateRoll", "estimatePitch"];

function coordinatesOf(
	names: readonly string[],
	start: Float64Array,
	flight: Flight,
	set: GainSet,
): Coordinate[] {
	const rateOnly = set.structure === "rateOnly";
	const place = new Map(flight.live().map((entry) => [entry.name, entry.index]));
	const left = new Set([...POSITION, ...TILT, ...(rateOnly ? [...VELOCITY, ...ESTIMATE] : [])]);
	const plain = names
		.filter((name) => !left.has(name))
		.map((name): Coordinate => {
			const from = place.get(name)!;
			return {
				size: sizeOf(name, start[from]!),
				move: (state, by) => {
					state[from]! += by;
				},
				read: (state, now) => state[now.get(name)!]!,
			};
		});
	const q = TILT.map((name) => place.get(name)!);
	const q0 = q.map((i) => start[i]!) as [number, number, number, number];
	return rateOnly ? plain : [...[0, 1].map((axis) => tilt(axis, q, q0)), ...plain];
}

/** Small turn about a body axis: q = q0 (1, e/2); heading is left out. */
function tilt(
	axis: number,
	q: readonly number[],
	[w, x, y, z]: readonly [number, number, number, number],
): Coordinate {
	return {
		size: 0.1,
		move: (state, by) => {
			const s = by / 2;
			const c = Math.sqrt(1 - s * s);
			const turned =
				axis === 0
					? [c * w - s * x, c * x + s * w, c * y + s * z, c * z - s * y]
					: [c * w - s * y, c * x - s * z, c * y + s * w, c * z + s * x];
			q.forEach((at, i) => {
				state[at] = turned[i]!;
			});
		},
		read: (state) => {
			const [a, b, c, d] = q.map((i) => state[i]!) as [number, number, number, number];
			return axis === 0 ? 2 * (w * b - x * a - y * d + z * c) : 2 * (w * c - y * a - z * b + x * d);
		},
	};
}

function sizeOf(name: string, value: number): number {
	if (name.startsWith("rotorSpeed")) return Math.max(1, 0.1 * Math.abs(value));
	if (name.startsWith("momentum")) return 0.01;
	if (name.startsWith("velocity")) return 0.1;
	return name.startsWith("gyro") || name.includes("Rate") ? 1 : 0.1;
}
