import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { toFirmware } from "../handover/firmware-gains.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";
import { describeLimbLead, leadFactors, leadToFirmware, leadUnit } from "../handover/limb-lead.ts";
import { describeConversion, unitLabels } from "../handover/unit-labels.ts";
import { digits } from "./format.ts";
import type { FirmwareGainsJson, GainsJson } from "./json/gains.ts";

export function gainsJson(set: GainSet): GainsJson {
	const one = (axis: AxisName): GainsJson["roll"] => {
		const { kAngle, kp, ki, kd } = set[axis];
		const none = axis === "yaw" || set.structure === "rateOnly" || set.structure === "anglePid";
		const reason =
			axis === "yaw"
				? "yaw holds a turn rate: it has no angle loop"
				: `structure ${set.structure} has no cascaded angle loop`;
		return { kAngle: none ? null : kAngle, kp, ki, kd, why: none ? { kAngle: reason } : {} };
	};
	return { roll: one("roll"), pitch: one("pitch"), yaw: one("yaw") };
}

/** @param craft null where what limb and load are fed forward with is not asked for */
export function firmwareGainsJson(
	set: GainSet,
	units: FirmwareUnits,
	craft: Craft | null,
): FirmwareGainsJson {
	const firmware = toFirmware(set, units);
	const share = set.limbLead ?? 0;
	const lead = craft?.limb && share !== 0 ? leadToFirmware(share, leadFactors(craft), units) : null;
	const one = (axis: AxisName): FirmwareGainsJson["roll"] => {
		const labels = unitLabels(units, set.structure, axis);
		const g = firmware[axis];
		const list: Record<string, { value: number; unit: string }> = {
			kp: { value: g.core.kp, unit: labels.kp },
		};
		if (g.core.form === "parallel") {
			list["ki"] = { value: g.core.ki, unit: labels.ki };
			list["kd"] = { value: g.core.kd, unit: labels.kd };
		} else {
			if (g.core.ti !== null) list["Ti"] = { value: g.core.ti, unit: labels.ki };
			list["Td"] = { value: g.core.td, unit: labels.kd };
		}
		if (gainsJson(set)[axis].kAngle !== null) list["kAngle"] = { value: g.kAngle, unit: labels.kAngle };
		if (g.kff !== 0) list["kff"] = { value: g.kff, unit: labels.kff };
		list["integralLimit"] = { value: g.integralLimit, unit: labels.output };
		list["outputLimit"] = { value: g.outputLimit, unit: labels.output };
		if (list["kAngle"]) list["rateLimit"] = { value: g.rateLimit, unit: labels.rate };
		if (set[axis].kd !== 0)
			list["derivativeFilter"] = { value: g.derivativeFilter, unit: labels.derivativeFilter };
		if (lead && axis !== "yaw") list["limbLead"] = { value: lead[axis], unit: leadUnit(units) };
		return list;
	};
	return {
		form: units.form,
		conversion: describeConversion(set, units),
		limbLead: craft && lead ? describeLimbLead(share, craft, units) : "",
		roll: one("roll"),
		pitch: one("pitch"),
		yaw: one("yaw"),
	};
}

const MEANING: { readonly [name: string]: string } = {
	kp: "pushes against turning",
	ki: "against what stays: wind",
	kd: "brakes sudden turning",
	Ti: "against what stays, less is more",
	Td: "brakes sudden turning",
	kAngle: "turns a wrong angle back",
	kff: "follows the stick at once",
	integralLimit: "most that ki may add",
	outputLimit: "most that the axis asks",
	rateLimit: "fastest turn it asks for",
	derivativeFilter: "cuts noise out of kd",
	limbLead: "answers limb and load beforehand",
};
const INTERNAL_UNITS: { readonly [name: string]: string } = {
	kp: "per rad/s",
	ki: "per rad",
	kd: "per rad/s^2",
	kAngle: "1/s",
};

/** What people call the numbers whose key in the file is two words. */
const NAMES: { readonly [key: string]: string } = {
	kAngle: "k_angle",
	integralLimit: "integral limit",
	outputLimit: "output limit",
	rateLimit: "rate limit",
	derivativeFilter: "derivative low-pass",
	limbLead: "limb lead",
};
export const gainName = (key: string): string => NAMES[key] ?? key;

/** Those that a schedule scales, of an axis's numbers in the builder's units, in their order. */
export const tabledGains = (axis: FirmwareGainsJson["roll"]): string[] =>
	["kp", "ki", "kd", "Ti", "Td", "kAngle"].filter((name) => axis[name] !== undefined);

/** One number to type in. */
export interface GainRow {
	readonly axis: AxisName;
	/** As the page and the tables call it. */
	readonly name: string;
	readonly value: string;
	readonly unit: string;
	/** The internal number with its unit; empty where it is the same or has none. */
	readonly internal: string;
	readonly what: string;
}

/** Every number of a set as the builder types it, axis by axis. */
export function gainRows(set: GainSet, units: FirmwareUnits, craft: Craft): GainRow[] {
	const firmware = firmwareGainsJson(set, units, craft);
	const internal = gainsJson(set);
	return AXES.flatMap((axis) =>
		Object.entries(firmware[axis]).map(([name, { value, unit }]): GainRow => {
			const inside = name in INTERNAL_UNITS ? internal[axis][name as "kp"] : null;
			const insideUnit = set.structure === "anglePid" && axis !== "yaw" ? "" : (INTERNAL_UNITS[name] ?? "");
			return {
				axis,
				name: gainName(name),
				value: digits(value, 4),
				unit,
				internal:
					name === "limbLead"
						? `${digits(100 * set.limbLead!, 3)} % of what they ask`
						: inside === null
							? ""
							: `${digits(inside, 4)} ${insideUnit}`.trim(),
				what: MEANING[name] ?? "",
			};
		}),
	);
}
