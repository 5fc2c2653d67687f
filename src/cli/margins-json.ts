import type {
	AxisMargins,
	DiskReport,
	MarginsReport,
	PeriodicAxis,
	PeriodicLoop,
} from "../analysis/report-types.ts";
import type { Margin } from "../analysis/scalar-loop-types.ts";
import { AXES, type AxisName } from "../control/spec.ts";
import { loopFields, type Why } from "../report/json/loop-fields.ts";
import type { MadeBy } from "../report/json/made-by.ts";
import type { MarginsJson } from "../report/json/margins.ts";
import { brokenLimits, REQUIRED } from "../report/margin-limits.ts";

/** The margins report under the names that scripts read. */
export function marginsJson(report: MarginsReport, made: MadeBy): MarginsJson {
	const { periodic, slowMode } = report;
	const broken = brokenLimits(report);
	return {
		axes: perAxis((axis) => axisJson(report.axes[axis])),
		periodic: {
			// Whole microseconds, so that no rounding of seconds shows.
			hyperperiodMs: Math.round(1e6 * periodic.hyperperiodSec) / 1000,
			equalClocks: periodic.equalClocks,
			rationalised: periodic.rationalised,
			stable: periodic.stable,
			spectralRadius: periodic.spectralRadius,
			axesApart: periodic.axesApart,
			axes: perAxis((axis) => periodicAxisJson(periodic.axes[axis], report.axes[axis].why)),
		},
		diskMargin: diskJson(report.disk),
		slowMode: slowMode && { ...slowMode },
		limits: {
			met: broken.length === 0,
			broken,
			gainMarginDb: REQUIRED.gainMarginDb,
			phaseMarginDeg: REQUIRED.phaseMarginDeg,
		},
		notes: [...report.notes],
		why: slowMode ? {} : { slowMode: "an angle loop holds the tilt, or nothing drifts" },
		madeBy: made,
	};
}

function perAxis<T>(make: (axis: AxisName) => T): { roll: T; pitch: T; yaw: T } {
	const [roll, pitch, yaw] = AXES.map(make);
	return { roll: roll!, pitch: pitch!, yaw: yaw! };
}

/** Reasons for those of the named fields that are null. */
function reasons(
	fields: { readonly [name: string]: unknown },
	given: Readonly<Record<string, string>>,
	otherwise: string,
): Why {
	const why: Why = {};
	for (const [name, value] of Object.entries(fields))
		if (value === null) why[name] = given[name] || otherwise;
	return why;
}

function axisJson(axis: AxisMargins): MarginsJson["axes"]["roll"] {
	const angleLoop = axis.angleLoop && loopFields(axis.angleLoop);
	const wholeAxis = axis.wholeAxis && loopFields(axis.wholeAxis);
	const felt = axis.felt;
	const feltNumbers = { fastShake: felt.fastShake?.hz ?? null, slowWallow: felt.slowWallow?.hz ?? null };
	return {
		rateLoop: loopFields(axis.rateLoop),
		angleLoop,
		wholeAxis,
		phaseLedger: axis.phaseLedger.map(({ element, kind, delaySec, degrees }) => ({
			element,
			kind,
			delayMs: delaySec === null ? null : 1000 * delaySec,
			degrees,
			why: reasons({ delayMs: delaySec }, {}, "a lag, not a delay"),
		})),
		feltHz: {
			...feltNumbers,
			sentence: felt.sentence,
			limits: felt.limits.map(({ gain, factor, hz }) => ({ gain, factor, hz })),
			why: reasons(feltNumbers, felt.why, "no such limit within reach"),
		},
		why: reasons({ angleLoop, wholeAxis }, axis.why, "this axis has no angle loop"),
	};
}

function periodicAxisJson(
	axis: PeriodicAxis,
	given: Readonly<Record<string, string>>,
): MarginsJson["periodic"]["axes"]["roll"] {
	const angleLoop = axis.angleLoop && periodicLoopJson(axis.angleLoop);
	const wholeAxis = axis.wholeAxis && periodicLoopJson(axis.wholeAxis);
	return {
		stable: axis.stable,
		spectralRadius: axis.spectralRadius,
		rateLoop: periodicLoopJson(axis.rateLoop),
		angleLoop,
		wholeAxis,
		why: reasons({ angleLoop, wholeAxis }, given, "this axis has no angle loop"),
	};
}

function periodicLoopJson(loop: PeriodicLoop): MarginsJson["periodic"]["axes"]["roll"]["rateLoop"] {
	const why: Why = {};
	const take = (name: string, margin: Margin, factor: number): number | null => {
		if (margin.value !== null) return margin.value * factor;
		why[name] = margin.why;
		return null;
	};
	const { gainMarginUpDb, gainMarginDownDb, delayMarginSec } = loop.difference;
	const difference = {
		gainMarginUpDb,
		gainMarginDownDb,
		delayMarginMs: delayMarginSec === null ? null : 1000 * delayMarginSec,
	};
	return {
		gainMarginUpDb: take("gainMarginUpDb", loop.gainMarginUpDb, 1),
		gainMarginDownDb: take("gainMarginDownDb", loop.gainMarginDownDb, 1),
		delayMarginMs: take("delayMarginMs", loop.delayMarginSec, 1000),
		difference: { ...difference, why: reasons(difference, {}, "one of the two answers has no such number") },
		why,
	};
}

function diskJson(disk: DiskReport): MarginsJson["diskMargin"] {
	const { alpha, gainDb, phaseDeg, radPerSec, why } = disk;
	const numbers = { alpha, gainDb, phaseDeg, radPerSec };
	return { ...numbers, why: reasons(numbers, {}, why || "not computed") };
}
