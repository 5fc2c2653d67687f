import { ANSWER, axisResponse } from "../control/axis-response.ts";
import { respondBlock } from "../control/block.ts";
import { filterBlock } from "../control/blocks.ts";
import { AXES, type AxisName, type FilterSpec, type FixedGainSet } from "../control/spec.ts";
import { createResponder } from "../linear/frequency-response.ts";
import { axisSystem } from "./axis-plants.ts";
import type { LinearCraft } from "./linearise.ts";
import type { LedgerEntry } from "./report-types.ts";
import type { LoopResponse } from "./scalar-loop-types.ts";
import type { TimingChain } from "./timing-chain.ts";

const DEGREES = 180 / Math.PI;

export interface LedgerSpec {
	readonly linear: LinearCraft;
	readonly chain: TimingChain;
	readonly set: FixedGainSet;
	readonly axis: AxisName;
	readonly gyroLowPassHz: number | null;
	readonly rateSpacingSec: number;
	/** The loop whose phase is laid out. */
	readonly loop: LoopResponse;
	/** Which reading leads its chain: 'gyro' for a rate loop, 'angle' for a single angle PID. */
	readonly path: "gyro" | "angle";
}

/**
 * What each element of the chain from tilt to thrust costs at omega, in the chain's order. The last line is what sampling
 * itself adds (images of the hold, other axes), so that the lines add up to arg L exactly.
 */
export function phaseLedger(spec: LedgerSpec, omega: number): LedgerEntry[] {
	const { linear, chain, set, axis, path } = spec;
	const index = AXES.indexOf(axis) as 0 | 1 | 2;
	const T = 1e-6 * chain.tickUs;
	const out = new Float64Array(ANSWER.length);
	const entries: LedgerEntry[] = [];
	const add = (
		element: string,
		kind: LedgerEntry["kind"],
		degrees: number,
		delaySec: number | null,
	): void => {
		entries.push({ element, kind, degrees, delaySec });
	};
	const delay = (element: string, seconds: number, degrees = -omega * seconds * DEGREES): void =>
		add(element, "timing", degrees, seconds);
	const gyro = path === "gyro";
	const lowPass = spec.gyroLowPassHz;
	const lag = (tau: number): number => -Math.atan(omega * tau) * DEGREES;
	const lowPassDegrees = gyro && lowPass !== null ? lag(1 / (2 * Math.PI * lowPass)) : 0;
	if (gyro && lowPass !== null) add("gyro low-pass", "timing", lowPassDegrees, null);
	const age = gyro ? chain.gyroAge : chain.attitudeAge;
	const latency = 1e-6 * (gyro ? chain.gyroBusUs : chain.attitudeLatencyUs);
	age.respond(omega, out);
	delay(
		gyro ? "age of the gyro sample" : "age of the attitude sample",
		age.meanSec - latency,
		near(Math.atan2(out[1]!, out[0]!) + omega * latency, -omega * (age.meanSec - latency)) * DEGREES,
	);
	delay(gyro ? "gyro read-out" : "attitude latency", latency);
	let filters = 0;
	if (gyro)
		for (const filter of set.filters) {
			respondBlock(filterBlock(filter, T), 0, omega * T, out);
			const degrees = Math.atan2(out[1]!, out[0]!) * DEGREES;
			filters += degrees;
			add(filterName(filter), "control", degrees, null);
		}
	axisResponse(set, axis, T, spec.rateSpacingSec).respond(omega, out);
	const at = gyro ? ANSWER.rate : ANSWER.angle;
	const law = Math.atan2(-out[at + 1]!, -out[at]!) * DEGREES - filters;
	add(gyro ? "control law (P, I, D)" : "control law (P, I)", "control", principal(law), null);
	const compute = 1e-6 * chain.computeUs;
	delay("computing", compute);
	chain.holdAge.respond(omega, out);
	delay(
		"waiting for the speed controller's frame",
		chain.holdAge.meanSec - compute,
		near(Math.atan2(out[1]!, out[0]!) + omega * compute, -omega * (chain.holdAge.meanSec - compute)) *
			DEGREES,
	);
	delay("command held between ticks", T / 2);
	delay("pulse or frame to the speed controller", linear.transportSec[index]);
	const motor = lag(linear.motorLagSec);
	add("motor lag", "craft", motor, null);
	const system = axisSystem(linear, index, !gyro);
	const answer = new Float64Array(2 * system.inputs * system.outputs);
	createResponder(system)(omega, answer);
	const reading = gyro ? 0 : 2 * system.inputs;
	const body = Math.atan2(answer[reading + 1]!, answer[reading]!) * DEGREES - motor - lowPassDegrees;
	add("body (from torque to turning)", "craft", principal(body), null);
	spec.loop(omega, out);
	const total = Math.atan2(out[1]!, out[0]!) * DEGREES;
	const rest = total - entries.reduce((sum, e) => sum + e.degrees, 0);
	add("sampling images and other paths", "timing", principal(rest), null);
	return entries;
}

function filterName(filter: FilterSpec): string {
	if (filter.kind === "notch") return `notch at ${filter.centreHz} Hz`;
	return `${filter.kind === "lowPass1" ? "one" : "two"}-pole low-pass at ${filter.cutoffHz} Hz`;
}

/** Degrees in (-180, 180]. */
function principal(degrees: number): number {
	const turned = ((degrees % 360) + 360) % 360;
	return turned > 180 ? turned - 360 : turned;
}

/** The angle (rad) plus whole turns that lies nearest a guess. */
function near(angle: number, guess: number): number {
	return angle + 2 * Math.PI * Math.round((guess - angle) / (2 * Math.PI));
}
