import type { AxisGains, AxisName, FixedGainSet } from "../control/spec.ts";
import type { FeltFrequencies, FeltLimit } from "./report-types.ts";
import { analyseScalarLoop } from "./scalar-loop.ts";
import type { LoopResponse } from "./scalar-loop-types.ts";

type Gain = FeltLimit["gain"];

export interface FeltSpec {
	readonly set: FixedGainSet;
	readonly axis: AxisName;
	/** The axis's outermost loop at u for a gain set: L is linear in every single gain. */
	loopFor(set: FixedGainSet): LoopResponse;
	readonly lowestRadPerSec: number;
	readonly highestRadPerSec: number;
	/** Where L is sampled and real at the highest. */
	readonly periodSec?: number;
	/** Of the closed axis. */
	readonly stable: boolean;
	readonly hasAngleLoop: boolean;
}

/**
 * What each gain does when it alone is raised: with L = A + k B the loop is on the edge where 1 + A + f k B = 0, so that it is the
 * scalar loop k B / (1 + A) opened at that gain, and its gain margin is the answer.
 */
export function feltFrequencies(spec: FeltSpec): FeltFrequencies {
	const why: Record<string, string> = {};
	const limits: FeltLimit[] = [];
	const gains: Gain[] =
		spec.hasAngleLoop && spec.set.structure === "cascade" ? ["kp", "ki", "kd", "kAngle"] : ["kp", "ki", "kd"];
	for (const gain of gains) {
		const found = limitOf(spec, gain);
		if (typeof found === "string") why[gain] = found;
		else limits.push(found);
	}
	const fastShake = limits.find((l) => l.gain === "kp") ?? null;
	const slow = limits
		.filter((l) => l.gain === "ki" || l.gain === "kAngle")
		.sort((a, b) => a.factor - b.factor);
	const slowWallow = slow[0] ?? null;
	if (!fastShake) why["fastShake"] = why["kp"] ?? "kp has no limit";
	if (!slowWallow) why["slowWallow"] = why["ki"] ?? why["kAngle"] ?? "neither ki nor k_angle has a limit";
	return { fastShake, slowWallow, limits, sentence: sentence(fastShake, slowWallow, limits), why };
}

function limitOf(spec: FeltSpec, gain: Gain): FeltLimit | string {
	if (!spec.stable) return "the axis is unstable as it is";
	const now = spec.set[spec.axis];
	const value = now[gain];
	if (value === 0) return `${gain} is 0`;
	const whole = spec.loopFor(spec.set);
	const without = spec.loopFor(withGain(spec.set, spec.axis, gain));
	const a = new Float64Array(2);
	const result = analyseScalarLoop({
		respond: (omega, out) => {
			whole(omega, out);
			without(omega, a);
			const [br, bi] = [out[0]! - a[0]!, out[1]! - a[1]!];
			const dr = 1 + a[0]!;
			const size = dr * dr + a[1]! * a[1]!;
			out[0] = (br * dr + bi * a[1]!) / size;
			out[1] = (bi * dr - br * a[1]!) / size;
		},
		lowestRadPerSec: spec.lowestRadPerSec,
		highestRadPerSec: spec.highestRadPerSec,
		...(spec.periodSec === undefined ? {} : { periodSec: spec.periodSec }),
		stable: true,
	});
	const { value: db, radPerSec } = result.gainMarginUpDb;
	if (db === null) return `raising ${gain} alone never shakes`;
	return { gain, factor: 10 ** (db / 20), hz: radPerSec / (2 * Math.PI) };
}

function withGain(set: FixedGainSet, axis: AxisName, gain: Gain): FixedGainSet {
	const gone: Partial<AxisGains> = gain === "kAngle" ? { kAngle: 0, kAngleI: 0 } : { [gain]: 0 };
	return { ...set, [axis]: { ...set[axis], ...gone } };
}

/** A gain that would have to rise by more than this is not what a pilot feels. */
const WALLOW_WITHIN = 30;

function sentence(shake: FeltLimit | null, wallow: FeltLimit | null, limits: readonly FeltLimit[]): string {
	const parts: string[] = [];
	if (shake) parts.push(`fast shake near ${hz(shake.hz)}: lower kp`);
	if (wallow && wallow.factor <= WALLOW_WITHIN) {
		const both = limits.filter((l) => l.gain === "ki" || l.gain === "kAngle");
		const near = both.every((l) => Math.abs(Math.log(l.hz / wallow.hz)) < Math.log(1.6)) && both.length > 1;
		const name = (l: FeltLimit): string => (l.gain === "ki" ? "ki" : "k_angle");
		parts.push(`slow wallow near ${hz(wallow.hz)}: lower ${near ? "ki or k_angle" : name(wallow)}`);
	}
	return parts.join("; ") || "no single gain makes this axis shake";
}

const hz = (value: number): string => `${Number(value.toPrecision(2))} Hz`;
