import type { AxisGains, FilterSpec, GainSet } from "../control/spec.ts";
import { scheduleDocument } from "./gain-schedule.ts";

/** A gain set as the scenario file writes it, plain SI numbers, nothing left to defaults. */
export function gainSetDocument(set: GainSet, note: string): Record<string, unknown> {
	return {
		name: set.name,
		note,
		structure: set.structure,
		...liftOffDocument(set),
		...(set.limbLead === undefined ? {} : { limbLead: set.limbLead }),
		roll: axisDocument(set.roll, set.structure === "cascade"),
		pitch: axisDocument(set.pitch, set.structure === "cascade"),
		yaw: axisDocument(set.yaw, false),
		...(set.schedule ? { schedule: scheduleDocument(set.schedule) } : {}),
		...(set.filters.length > 0 ? { filters: set.filters.map(filterDocument) } : {}),
	};
}

function liftOffDocument({ liftOff }: GainSet): Record<string, unknown> {
	if (liftOff === undefined) return {};
	if (liftOff === null) return { integralOnGround: "runs" };
	return { liftOffAtHoverShare: liftOff.hoverShare, liftOffFor: liftOff.forSec };
}

function axisDocument(axis: AxisGains, hasAngleLoop: boolean): Record<string, unknown> {
	return {
		...(hasAngleLoop
			? { kAngle: axis.kAngle, kAngleI: axis.kAngleI, angleIntegralLimit: axis.angleIntegralLimitRadPerSec }
			: {}),
		kp: axis.kp,
		ki: axis.ki,
		kd: axis.kd,
		kff: axis.kff,
		setPointWeight: axis.setPointWeight,
		integralLimit: axis.integralLimit,
		outputLimit: axis.outputLimit,
		rateLimit: axis.rateLimitRadPerSec,
		derivativeCutoff: axis.derivativeCutoffHz,
	};
}

function filterDocument(filter: FilterSpec): Record<string, unknown> {
	switch (filter.kind) {
		case "lowPass1":
			return { kind: filter.kind, cutoff: filter.cutoffHz };
		case "lowPass2":
			return { kind: filter.kind, cutoff: filter.cutoffHz, damping: filter.damping };
		case "notch":
			return { kind: filter.kind, centre: filter.centreHz, width: filter.widthHz };
	}
}

/** The document with a set added, or in the place of the one that has its name. */
export function withGainSet(document: unknown, set: Record<string, unknown>): unknown {
	const whole = document as { gainSets?: readonly { name?: unknown }[] };
	const sets = whole.gainSets ?? [];
	const at = sets.findIndex((each) => each.name === set["name"]);
	return { ...whole, gainSets: at < 0 ? [...sets, set] : sets.map((each, i) => (i === at ? set : each)) };
}
