import { AXES, type AxisName } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import { firmwareGainsJson } from "../report/gains.ts";
import type { Why } from "../report/json/loop-fields.ts";
import type { MadeBy } from "../report/json/made-by.ts";
import type { TuneJson } from "../report/json/tune.ts";
import { scheduleJson } from "../report/schedule-json.ts";
import type { EnvelopeProof, FrozenPose } from "../tuning/envelope.ts";
import type { FlownCorner } from "../tuning/fly-corners.ts";
import type { AxisTuning, CornerMetrics, LoopNumbers, TunedGains, TuneResult } from "../tuning/result.ts";
import type { ScheduleResult } from "../tuning/schedule.ts";

const DEG = 180 / Math.PI;
const HZ = 1 / (2 * Math.PI);

/** A tuning under the names that scripts read. */
export function tuneJson(
	result: TuneResult,
	units: FirmwareUnits,
	craft: Craft,
	hover: TuneJson["hover"],
	flown: readonly FlownCorner[],
	made: MadeBy,
	proof: EnvelopeProof | null = null,
	schedule: ScheduleResult | null = null,
): TuneJson {
	const noSolution = (axis: AxisName): string => result.axes[axis].why || "this axis has no solution";
	const gains = perAxis((axis) => gainsOf(result.gains[axis]));
	const objective = perAxis((axis) => result.objective[axis]);
	const firmwareGains = result.gainSet && firmwareGainsJson(result.gainSet, units, craft);
	return {
		feasible: result.feasible && hover.fit,
		hover,
		character: result.character,
		gains: { ...gains, why: reasons(gains, noSolution) },
		limits: { ...result.limits },
		binding: result.binding.map(({ axis, constraint, corner, value, limit, unit, sentence }) => ({
			axis,
			constraint,
			corner,
			value,
			limit,
			unit,
			sentence,
		})),
		objective: { ...objective, why: reasons(objective, noSolution) },
		firmwareGains,
		axes: perAxis((axis) => axisJson(result.axes[axis])),
		alternatives: result.alternatives.map(({ change, sentence, gain }) => ({
			change,
			sentence,
			gain,
			why: gain === null ? { gain: "it turns no solution into one" } : noWhy(),
		})),
		corners: result.corners.map((each) => each.name),
		unflyable: result.unflyable.map(({ corner, reason }) => ({ corner, reason })),
		flown: flown.map(({ corner, axis, status, reason, overshootPct, predictedOvershootPct }) => ({
			corner,
			axis,
			status,
			reason,
			overshootPct,
			predictedOvershootPct,
			why: overshootPct === null ? { overshootPct: reason || "the flight ended early" } : noWhy(),
		})),
		envelope: proof && envelopeJson(proof),
		schedule: schedule && scheduleJson(schedule, units, craft),
		rules: [...result.rules],
		why: {
			...(firmwareGains ? {} : { firmwareGains: "an axis has no solution" }),
			...(schedule ? {} : { schedule: "not asked for: one set serves, or --reach was not given" }),
			...(proof ? {} : { envelope: "not asked for (--reach), or no gain set to prove" }),
		},
		madeBy: made,
	};
}

function envelopeJson({ frozen, worst, flights, leadTiltDeg }: EnvelopeProof): TuneJson["envelope"] {
	const poseDeg = (each: FrozenPose): number[] => each.pose.poseRad.map((a) => a * DEG);
	return {
		poses: new Set(frozen.map(({ pose }) => pose)).size,
		broken: frozen.flatMap((each) => [
			...each.broken.map(({ what, value, limit }) => ({
				poseDeg: poseDeg(each),
				loadGrams: 1000 * each.massKg,
				what,
				value,
				limit,
			})),
			...(each.why
				? [{ poseDeg: poseDeg(each), loadGrams: 1000 * each.massKg, what: each.why, value: 0, limit: 1 }]
				: []),
		]),
		worst: worst && {
			poseDeg: poseDeg(worst),
			loadGrams: 1000 * worst.massKg,
			diskPhaseDeg: worst.diskPhaseDeg,
			diskGainDb: worst.diskGainDb,
			why:
				worst.diskPhaseDeg === null
					? { diskPhaseDeg: worst.why || "unstable", diskGainDb: worst.why || "unstable" }
					: {},
		},
		flights: flights.map(({ corner, kind, status, reason, mostTiltDeg }) => ({
			corner,
			kind,
			status,
			reason,
			mostTiltDeg,
		})),
		leadTiltDeg,
		why: leadTiltDeg === null ? { leadTiltDeg: "that flight was lost" } : {},
	};
}

const noWhy = (): Why => ({});

function perAxis<T>(make: (axis: AxisName) => T): { roll: T; pitch: T; yaw: T } {
	const [roll, pitch, yaw] = AXES.map(make);
	return { roll: roll!, pitch: pitch!, yaw: yaw! };
}

function reasons(fields: { readonly [A in AxisName]: unknown }, reason: (axis: AxisName) => string): Why {
	const why: Why = {};
	for (const axis of AXES) if (fields[axis] === null) why[axis] = reason(axis);
	return why;
}

function gainsOf(gains: TunedGains | null): TuneJson["gains"]["roll"] {
	if (!gains) return null;
	const { kAngle, kp, ki, kd } = gains;
	return {
		kAngle,
		kp,
		ki,
		kd,
		why: kAngle === null ? { kAngle: "yaw holds a turn rate: it has no angle loop" } : {},
	};
}

function axisJson(axis: AxisTuning): TuneJson["axes"]["roll"] {
	const { problem: p, worst, crossoverRange, integralRatio } = axis;
	const why: Why = {};
	for (const [name, value] of Object.entries({ worst, crossoverHz: crossoverRange, integralRatio }))
		if (value === null) why[name] = axis.why || "no solution";
	return {
		feasible: axis.feasible,
		infeasibleBecause: axis.why,
		integralRatio,
		crossoverHz: crossoverRange && [crossoverRange[0] * HZ, crossoverRange[1] * HZ],
		worst: worst && cornerJson(worst),
		problem: {
			naturalHz: p.naturalRadPerSec * HZ,
			torqueStepNm: p.torqueStepNm,
			setPointStepDeg: p.setPointStep * DEG,
			horizonSec: p.horizonSec,
			ref1: p.ref1,
			ref2: p.ref2,
			derivativeCutoffHz: p.derivativeCutoffHz,
			gyroNoiseRadPerSecPerRootHz: p.gyroNoiseRadPerSecPerRootHz,
		},
		periodicNote: axis.periodicNote,
		why,
	};
}

function cornerJson(corner: CornerMetrics): NonNullable<TuneJson["axes"]["roll"]["worst"]> {
	const why: Why = {};
	if (!corner.angleLoop) why["angleLoop"] = "yaw holds a turn rate: it has no angle loop";
	if (!corner.wholeAxis) why["wholeAxis"] = "without an angle loop it is the rate loop";
	return {
		corner: corner.corner,
		objective: corner.objective,
		overshootPct: corner.overshootPct,
		crossoverHz: corner.crossoverRadPerSec * HZ,
		noiseRmsPct: 100 * corner.noiseRms,
		rateLoop: numbersJson(corner.rateLoop),
		angleLoop: corner.angleLoop && numbersJson(corner.angleLoop),
		wholeAxis: corner.wholeAxis && numbersJson(corner.wholeAxis),
		why,
	};
}

function numbersJson(n: LoopNumbers): NonNullable<TuneJson["axes"]["roll"]["worst"]>["rateLoop"] {
	const why: Why = {};
	const take = (name: string, value: number, factor = 1): number | null => {
		if (Number.isFinite(value)) return value * factor;
		why[name] = "no such crossing: nothing to limit";
		return null;
	};
	return {
		ms: take("ms", n.ms),
		mt: take("mt", n.mt),
		phaseMarginDeg: take("phaseMarginDeg", n.phaseMarginDeg),
		gainMarginUpDb: take("gainMarginUpDb", n.gainMarginUpDb),
		gainMarginDownDb: take("gainMarginDownDb", n.gainMarginDownDb),
		delayMarginMs: take("delayMarginMs", n.delayMarginSec, 1000),
		crossoverHz: take("crossoverHz", n.crossoverRadPerSec, HZ),
		why,
	};
}
