import type { AxisName, GainSet } from "../../control/spec.ts";
import { toFirmware } from "../../handover/firmware-gains.ts";
import type { FirmwareUnits } from "../../handover/firmware-units.ts";
import { unitLabels } from "../../handover/unit-labels.ts";
import type { GainKey } from "../commands/set-gain.ts";

/** How one gain is shown and typed: shown = factor x internal. */
export interface GainUnit {
	readonly factor: number;
	readonly unit: string;
}

const INTERNAL: Readonly<Record<GainKey, string>> = {
	kAngle: "1/s",
	kAngleI: "1/s\u00b2",
	kp: "per rad/s",
	ki: "per rad",
	kd: "per rad/s\u00b2",
	kff: "per rad/s",
};
const INTERNAL_ON_ANGLE: Readonly<Partial<Record<GainKey, string>>> = {
	kp: "per rad",
	ki: "per rad s",
	kd: "per rad/s",
};

/** Internal, or as the builder types it. The standard form has no factor of its own for ki and kd: those stay internal. */
export function gainUnit(
	set: GainSet,
	axis: AxisName,
	gain: GainKey,
	units: FirmwareUnits,
	asTyped: boolean,
): GainUnit {
	const onAngle = set.structure === "anglePid" && axis !== "yaw";
	const internal = { factor: 1, unit: (onAngle ? INTERNAL_ON_ANGLE[gain] : undefined) ?? INTERNAL[gain] };
	if (!asTyped) return internal;
	const ones = { ...set[axis], kp: 1, ki: 1, kd: 1, kff: 1, kAngle: 1, kAngleI: 1 };
	const typed = toFirmware({ ...set, [axis]: ones }, units)[axis];
	const labels = unitLabels(units, set.structure, axis);
	if (gain === "kAngle" || gain === "kAngleI")
		return { factor: typed[gain], unit: gain === "kAngle" ? labels.kAngle : internal.unit };
	if (gain === "kff") return { factor: typed.kff, unit: labels.kff };
	if (gain === "kp") return { factor: typed.core.kp, unit: labels.kp };
	return typed.core.form === "parallel" ? { factor: typed.core[gain], unit: labels[gain] } : internal;
}
