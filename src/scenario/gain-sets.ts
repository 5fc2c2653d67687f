import {
	AXES,
	type AxisGains,
	type AxisName,
	DEFAULT_LIFT_OFF,
	type FilterSpec,
	type GainSet,
	type Structure,
} from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { COMMON, type Notes } from "../craft/notes.ts";
import {
	type FirmwareAxisGains,
	type FirmwareCore,
	fromFirmware,
	toFirmware,
} from "../handover/firmware-gains.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import { resolveSchedule } from "./gain-schedule.ts";
import type { GainSetInput } from "./schema.ts";

type AxisInput = GainSetInput["roll"];

/** Gain sets of the file in internal units; a gain left out is 0, a limit left out gets a default that is written down. */
export function resolveGainSets(
	sets: readonly GainSetInput[],
	firmware: FirmwareUnits,
	craft: Craft,
	notes: Notes,
): GainSet[] {
	const seen = new Set<string>();
	return sets.map((set, i) => {
		if (seen.has(set.name)) notes.problem(`gainSets[${i}].name`, set.name, "a name that no other set has");
		seen.add(set.name);
		const path = `gainSets[${i}]`;
		const schedule = set.schedule ? resolveSchedule(set.schedule, `${path}.schedule`, craft, notes) : null;
		const plain = resolveSet(set, path, firmware, notes);
		return schedule ? { ...plain, schedule } : plain;
	});
}

function resolveSet(set: GainSetInput, path: string, firmware: FirmwareUnits, notes: Notes): GainSet {
	const structure = set.structure ?? "cascade";
	const inputs = { roll: set.roll, pitch: set.pitch ?? set.roll, yaw: set.yaw as AxisInput };
	if (set.pitch === undefined)
		notes.assumeWord(undefined, 0, {
			path: `${path}.pitch`,
			value: "as roll",
			because: "no pitch gains were given",
			source: COMMON,
			measure: "give pitch its own gains where the craft is longer than wide",
		});
	AXES.forEach((axis) => {
		checkAxis(inputs[axis], axis, structure, set, `${path}.${axis}`, firmware, notes);
	});
	assumeLimits(inputs, path, firmware, notes);
	const filters = (set.filters ?? []).map(filterSpec);
	const ruled = set.liftOffAtHoverShare !== undefined || set.liftOffFor !== undefined;
	if (set.integralOnGround === "runs" && ruled)
		notes.problem(`${path}.integralOnGround`, "runs", "'held' beside liftOffAtHoverShare or liftOffFor");
	const rule = {
		hoverShare: set.liftOffAtHoverShare ?? DEFAULT_LIFT_OFF.hoverShare,
		forSec: set.liftOffFor ?? DEFAULT_LIFT_OFF.forSec,
	};
	const liftOff = set.integralOnGround === "runs" ? { liftOff: null } : ruled ? { liftOff: rule } : {};
	const lead = set.limbLead === undefined ? {} : { limbLead: set.limbLead };
	const kept = { name: set.name, structure, filters, ...liftOff, ...lead };
	const typed: GainSet = {
		...kept,
		roll: axisGains(inputs.roll, "roll", firmware),
		pitch: axisGains(inputs.pitch, "pitch", firmware),
		yaw: axisGains(inputs.yaw, "yaw", firmware),
	};
	if (set.units !== "firmware" || notes.problems.length > 0) return typed;
	return convert(typed, inputs, firmware);
}

function axisGains(input: AxisInput, axis: AxisName, firmware: FirmwareUnits): AxisGains {
	return {
		kAngle: input.kAngle ?? 0,
		kAngleI: input.kAngleI ?? 0,
		kp: input.kp ?? 0,
		ki: input.ki ?? 0,
		kd: input.kd ?? 0,
		kff: input.kff ?? 0,
		setPointWeight: input.setPointWeight ?? 1,
		integralLimit: input.integralLimit ?? (axis === "yaw" ? 0.1 : 0.2),
		outputLimit: input.outputLimit ?? (axis === "yaw" ? 0.2 : 0.4),
		rateLimitRadPerSec: input.rateLimit ?? (200 * Math.PI) / 180,
		angleIntegralLimitRadPerSec: input.angleIntegralLimit ?? 0.5,
		derivativeCutoffHz: input.derivativeCutoff ?? defaultCutoff(firmware),
	};
}

/** Well below half the loop rate. */
const defaultCutoff = (firmware: FirmwareUnits): number => Math.min(40, 0.1 * firmware.loopHz);

const LIMITS = ["integralLimit", "outputLimit", "rateLimit", "derivativeCutoff"] as const;

function assumeLimits(
	inputs: { readonly [axis in AxisName]: AxisInput },
	path: string,
	firmware: FirmwareUnits,
	notes: Notes,
): void {
	const missing = LIMITS.filter((limit) => AXES.some((axis) => inputs[axis][limit] === undefined));
	if (missing.length === 0) return;
	const value = {
		integralLimit: "integralLimit 20 % (yaw 10 %)",
		outputLimit: "outputLimit 40 % (yaw 20 %)",
		rateLimit: "rateLimit 200 deg/s",
		derivativeCutoff: `derivativeCutoff ${defaultCutoff(firmware)} Hz`,
	};
	notes.assumeWord(undefined, 0, {
		path,
		value: missing.map((limit) => value[limit]).join(", "),
		because: "limits that the set does not give on every axis",
		source: COMMON,
		measure: "copy them from your code",
	});
}

function checkAxis(
	input: AxisInput,
	axis: AxisName,
	structure: Structure,
	set: GainSetInput,
	path: string,
	firmware: FirmwareUnits,
	notes: Notes,
): void {
	const standard = set.units === "firmware" && firmware.form === "standard";
	for (const key of standard ? (["ki", "kd"] as const) : (["ti", "td"] as const))
		if (input[key] !== undefined)
			notes.problem(
				`${path}.${key}`,
				input[key],
				standard ? "ti and td, since firmware.form is 'standard'" : "ki and kd",
				standard ? "" : 'ti and td are for sets with "units": "firmware" where firmware.form is \'standard\'',
			);
	if (standard && (input.kp ?? 0) === 0)
		notes.problem(`${path}.kp`, input.kp, "above 0 in the standard form");
	if (standard && input.ti === 0)
		notes.problem(`${path}.ti`, input.ti, "above 0; leave ti out for no integral");
	const half = firmware.loopHz / 2;
	if (input.derivativeCutoff !== undefined && input.derivativeCutoff > half)
		notes.problem(
			`${path}.derivativeCutoff`,
			input.derivativeCutoff,
			`at most half the loop rate, ${half.toPrecision(4)} Hz`,
		);
	if (axis !== "yaw" && structure === "cascade" && input.kAngle === undefined)
		notes.problem(`${path}.kAngle`, undefined, "the angle loop's gain in 1/s such as 4; a cascade needs it");
	if (structure !== "cascade" && input.kAngle !== undefined && input.kAngle !== 0)
		notes.problem(`${path}.kAngle`, input.kAngle, `nothing here: structure '${structure}' has no outer loop`);
}

function filterSpec(filter: NonNullable<GainSetInput["filters"]>[number]): FilterSpec {
	switch (filter.kind) {
		case "lowPass1":
			return { kind: "lowPass1", cutoffHz: filter.cutoff };
		case "lowPass2":
			return { kind: "lowPass2", cutoffHz: filter.cutoff, damping: filter.damping ?? Math.SQRT1_2 };
		case "notch":
			return { kind: "notch", centreHz: filter.centre, widthHz: filter.width };
	}
}

/** Gains as typed in the builder's units; limits are quantities with units and stay. */
function convert(
	typed: GainSet,
	inputs: { readonly [axis in AxisName]: AxisInput },
	firmware: FirmwareUnits,
): GainSet {
	const asWritten = toFirmware(
		{
			...typed,
			roll: { ...typed.roll, kp: 1 },
			pitch: { ...typed.pitch, kp: 1 },
			yaw: { ...typed.yaw, kp: 1 },
		},
		firmware,
	);
	const axis = (name: AxisName): FirmwareAxisGains => {
		const input = inputs[name];
		const core: FirmwareCore =
			firmware.form === "standard"
				? { form: "standard", kp: input.kp ?? 0, ti: input.ti ?? Number.POSITIVE_INFINITY, td: input.td ?? 0 }
				: { form: "parallel", kp: input.kp ?? 0, ki: input.ki ?? 0, kd: input.kd ?? 0 };
		return {
			...asWritten[name],
			core,
			kAngle: input.kAngle ?? 0,
			kAngleI: input.kAngleI ?? 0,
			kff: input.kff ?? 0,
		};
	};
	return fromFirmware({ roll: axis("roll"), pitch: axis("pitch"), yaw: axis("yaw") }, firmware, typed);
}
