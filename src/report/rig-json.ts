import { flyInTheAir, inTheAir, rigReport } from "../analysis/rig-report.ts";
import type { RigLoop } from "../analysis/rig-report-types.ts";
import type { Margin } from "../analysis/scalar-loop-types.ts";
import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import { flightJson } from "./fly-json.ts";
import type { RigBesideAirJson } from "./json/fly.ts";
import type { Why } from "./json/loop-fields.ts";
import type { RigJson, RigLoopJson } from "./json/rig.ts";

/** What a drill's rig does to the axis that is judged on it, beside the air if it is flown there too; empty for a drill without one. */
export function rigsJson(
	craft: Craft,
	point: OperatingPoint,
	set: GainSet,
	drill: Drill,
	besideAir: boolean,
	seed: number,
): RigBesideAirJson[] {
	if (!drill.rig) return [];
	const rig = rigJson(craft, point, set, drill);
	if (!besideAir)
		return [
			{ ...rig, air: null, why: { ...rig.why, air: "not asked for: --beside-air flies it there too" } },
		];
	const flight = flyInTheAir(craft, point, set, drill, seed);
	const { metrics } = flightJson(flight, craft, point, inTheAir(drill), set);
	const { status, reason, timeSec } = flight;
	return [{ ...rig, air: { status, reason, timeSec, metrics: metrics[rig.axis] } }];
}

function rigJson(craft: Craft, point: OperatingPoint, set: GainSet, drill: Drill): RigJson {
	const found = rigReport(craft, point, set, drill);
	const { geometry: g, loops } = found;
	const why: Why = {};
	if (g.periodSec === null)
		why["periodSec"] = g.stiffnessNmPerRad < 0 ? "it topples" : "nothing pulls it back to level";
	if (g.fastPeriodSec === null) why["fastPeriodSec"] = "there is no second swing";
	if (g.outputPctPerDeg === null) why["outputPctPerDeg"] = "nothing pulls it back to level";
	if (!loops) {
		why["onRig"] = found.why;
		why["inAir"] = found.why;
	}
	return {
		kind: found.kind,
		axis: found.axis,
		ofHover: found.ofHover,
		craftInertiaKgM2: g.craftInertiaKgM2,
		swingingInertiaKgM2: g.swingingInertiaKgM2,
		rigInertiaKgM2: g.rigInertiaKgM2,
		inertiaFactor: g.inertiaFactor,
		stiffnessNmPerRad: g.stiffnessNmPerRad,
		periodSec: g.periodSec,
		fastPeriodSec: g.fastPeriodSec,
		frictionNmSecPerRad: g.frictionNmSec,
		outputPctPerDeg: g.outputPctPerDeg,
		onRig: loops && loopJson(loops.rig),
		inAir: loops && loopJson(loops.air),
		sentences: [...found.sentences],
		why,
	};
}

function loopJson({ margins, growthPerSec }: RigLoop): RigLoopJson {
	const { rateLoop, wholeAxis, felt } = margins;
	const why: Why = {};
	const take = (name: string, margin: Margin | undefined): number | null => {
		if (margin && margin.value !== null) return margin.value;
		why[name] = margin ? margin.why : (margins.why["wholeAxis"] ?? "");
		return null;
	};
	const crossover = take("rateCrossoverHz", rateLoop.crossoverRadPerSec);
	const shake = felt.fastShake;
	if (!shake) {
		why["shakesAtKpTimes"] = felt.why["fastShake"] ?? "";
		why["shakeHz"] = felt.why["fastShake"] ?? "";
	}
	return {
		stable: (wholeAxis ?? rateLoop).stable,
		rateGainMarginUpDb: take("rateGainMarginUpDb", rateLoop.gainMarginUpDb),
		ratePhaseMarginDeg: take("ratePhaseMarginDeg", rateLoop.phaseMarginDeg),
		rateCrossoverHz: crossover === null ? null : crossover / (2 * Math.PI),
		wholeGainMarginUpDb: take("wholeGainMarginUpDb", wholeAxis?.gainMarginUpDb),
		wholePhaseMarginDeg: take("wholePhaseMarginDeg", wholeAxis?.phaseMarginDeg),
		growthPerSec,
		shakesAtKpTimes: shake ? shake.factor : null,
		shakeHz: shake ? shake.hz : null,
		why,
	};
}
