import { AXES, type AxisName } from "../control/spec.ts";
import type { Craft, Timing } from "../craft/model.ts";
import { searchLimits } from "./characters.ts";
import {
	axisProblemOf,
	type CraftModel,
	craftModel,
	holdRollAndPitch,
	type ProblemOptions,
} from "./craft-problem.ts";
import { completeSet } from "./gain-set.ts";
import { Judge } from "./judge.ts";
import type { Gains4 } from "./loop-test.ts";
import type { AxisSearchProblem } from "./problem.ts";
import type { Alternative, TuneCorner, TuneOptions, TuneResult } from "./result.ts";
import { searchAxis } from "./search.ts";

/** One thing a builder could improve, cheapest first. */
interface Change {
	readonly change: string;
	readonly craft: Craft;
}

const hertz = (periodUs: number): string => `${Number((1e6 / periodUs).toPrecision(3))} Hz`;

/** Every change that this craft has room for. */
function changesOf(craft: Craft): Change[] {
	const { timing, sensors, propulsion } = craft;
	const list: Change[] = [];
	const timed = (change: string, part: Partial<Timing>): void => {
		list.push({ change, craft: { ...craft, timing: { ...timing, ...part } } });
	};
	const half = (periodUs: number): number => Math.max(1, Math.round(periodUs / 2));
	const { attitude, control, gyro, escFrame, pulse } = timing;
	if (sensors.gyroLowPassHz !== null)
		list.push({
			change: `gyro low-pass at ${Number((2 * sensors.gyroLowPassHz).toPrecision(3))} Hz instead of ${Number(sensors.gyroLowPassHz.toPrecision(3))}`,
			craft: { ...craft, sensors: { ...sensors, gyroLowPassHz: 2 * sensors.gyroLowPassHz } },
		});
	if (attitude.kind === "fused") {
		const { clock } = attitude;
		timed(
			`attitude at ${hertz(half(clock.periodUs))} instead of ${Number((1e6 / clock.periodUs).toPrecision(3))}`,
			{
				attitude: { ...attitude, clock: { ...clock, periodUs: half(clock.periodUs) } },
			},
		);
		if (attitude.latencyUs >= 1000)
			timed(`attitude latency ${attitude.latencyUs / 2000} ms instead of ${attitude.latencyUs / 1000}`, {
				attitude: { ...attitude, latencyUs: half(attitude.latencyUs) },
			});
	}
	timed(
		`loop at ${hertz(half(control.periodUs))} instead of ${Number((1e6 / control.periodUs).toPrecision(3))}`,
		{
			control: { ...control, periodUs: half(control.periodUs) },
			gyro: { ...gyro, periodUs: Math.min(gyro.periodUs, half(control.periodUs)) },
		},
	);
	timed(
		`speed-controller frames at ${hertz(half(escFrame.periodUs))} instead of ${Number((1e6 / escFrame.periodUs).toPrecision(3))}`,
		{
			escFrame: { ...escFrame, periodUs: half(escFrame.periodUs) },
		},
	);
	if (pulse.kind === "width")
		timed("digital motor commands (50 us) instead of pulses", {
			pulse: { kind: "digital", transportUs: 50, steps: 2000 },
		});
	list.push({
		change: `motor lag ${Number((1e3 * 0.75 * propulsion.tauUpSec).toPrecision(3))} and ${Number((1e3 * 0.75 * propulsion.tauDownSec).toPrecision(3))} ms (a quarter less)`,
		craft: {
			...craft,
			propulsion: {
				...propulsion,
				tauUpSec: 0.75 * propulsion.tauUpSec,
				tauDownSec: 0.75 * propulsion.tauDownSec,
			},
		},
	});
	list.push({
		change: "inertia, thrust and motor lag measured twice as well",
		craft: {
			...craft,
			uncertainty: {
				inertia: craft.uncertainty.inertia / 2,
				thrust: craft.uncertainty.thrust / 2,
				motorLag: craft.uncertainty.motorLag / 2,
			},
		},
	});
	return list;
}

/** Less than this is said to buy nothing. */
const WORTH_SAYING = 0.02;
/** Corners that decide: those of the binding limits and of the worst objective. */
const DECIDING = 8;

/**
 * What each change would do. Feasible: roll's (or pitch's, the one with the higher objective) search again in the corners that
 * decided, measured by the same references, best first. Infeasible: all corners of the axes that failed; the first axis decides.
 * @param yawTouched holding roll and pitch makes a difference to yaw, so that it stands and falls with their gains
 */
export function alternatives(
	craft: Craft,
	options: TuneOptions,
	result: TuneResult,
	yawTouched: boolean,
): Alternative[] {
	const shared = {
		limits: searchLimits(result.limits),
		filters: options.filters ?? [],
		yawDerivative: options.yawDerivative ?? false,
	};
	const cornersOf = (changed: Craft): readonly TuneCorner[] | undefined =>
		changed.uncertainty === craft.uncertainty ? options.corners : options.corners?.map(nearer);
	const failed = AXES.filter((axis) => !result.axes[axis].feasible);
	if (failed.length > 0) {
		const asked = failed.includes("yaw") || yawTouched ? AXES : failed;
		return changesOf(craft).flatMap(({ change, craft: changed }) => {
			const how = orNull(() => possible(craftModel(changed, cornersOf(changed)), asked, shared)) ?? null;
			return how === null
				? []
				: [{ change, axis: failed[0]!, gain: null, sentence: `${change}: every limit can be kept${how}` }];
		});
	}
	const axis: AxisName = result.objective.pitch! > result.objective.roll! ? "pitch" : "roll";
	const now = result.axes[axis];
	const names = [...new Set([now.worst!.corner, ...now.binding.map((b) => b.corner)])].slice(0, DECIDING);
	const scale = {
		roll: result.axes.roll.problem,
		pitch: result.axes.pitch.problem,
		yaw: result.axes.yaw.problem,
	};
	const list: Alternative[] = [];
	for (const { change, craft: changed } of changesOf(craft)) {
		const corners =
			changed.uncertainty === craft.uncertainty
				? result.corners.filter((corner) => names.includes(corner.name))
				: cornersOf(changed);
		const found = orNull(() => {
			const problem = axisProblemOf(craftModel(changed, corners), axis, { ...shared, scale });
			return searchAxis(new Judge(problem));
		});
		if (!found?.feasible) continue;
		const gain = 1 - found.value / now.objective!;
		list.push({
			change,
			axis,
			gain,
			sentence:
				gain < WORTH_SAYING
					? `${change}: buys nothing (${Math.round(1000 * gain) / 10} % less error after steps)`
					: `${change}: ${axis} k_angle ${two(now.gains!.kAngle!)} to ${two(found.gains[0])}, kp ${two(now.gains!.kp)} to ${two(found.gains[1])}, error after steps ${Math.round(100 * gain)} % less`,
		});
	}
	return list.sort((a, b) => (b.gain ?? 0) - (a.gain ?? 0));
}

/** A given corner with what was measured twice as well: the craft's own come with it. */
function nearer({ name, point }: TuneCorner): TuneCorner {
	const half = (factor: number): number => 1 + (factor - 1) / 2;
	const { inertiaFactor, thrustFactor, motorLagFactor } = point;
	return {
		name,
		point: {
			...point,
			inertiaFactor: half(inertiaFactor),
			thrustFactor: half(thrustFactor),
			motorLagFactor: half(motorLagFactor),
		},
	};
}

/**
 * Whether the axes can keep every limit: roll and pitch first, since yaw is judged with these held wherever that makes a
 * difference, as `tune` does.
 * @returns how yaw was judged, null where an axis has no gains
 */
function possible(model: CraftModel, asked: readonly AxisName[], options: ProblemOptions): string | null {
	const tilt: { readonly problem: AxisSearchProblem; readonly gains: Gains4 }[] = [];
	for (const axis of asked) {
		const held =
			axis === "yaw"
				? holdRollAndPitch(model, completeSet(model, "", options.filters, [...tilt, tilt[0]!]))
				: model;
		const problem = axisProblemOf(held, axis, options);
		const { feasible, gains } = searchAxis(new Judge(problem));
		if (!feasible) return null;
		if (held.corners.some((corner) => corner.yawHeld))
			return ", yaw with roll and pitch held by the gains that they then have";
		tilt.push({ problem, gains });
	}
	return "";
}

/** What a craft that cannot fly throws is no alternative. */
function orNull<T>(work: () => T): T | null {
	try {
		return work();
	} catch (error) {
		if (error instanceof RangeError) return null;
		throw error;
	}
}

const two = (value: number): string => String(Number(value.toPrecision(2)));
