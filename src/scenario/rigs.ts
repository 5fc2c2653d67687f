import type { Craft } from "../craft/model.ts";
import type { PivotSpec, RigSpec, StringsSpec } from "../physics/rig-spec.ts";
import type { DrillInput } from "./drill-schema.ts";

/** What a rig that is not told otherwise does: no added inertia, no friction, no stops; strings like thin cord. */
const CORD = { stiffnessNPerM: 2000, dampingNSecPerM: 10 };

export function resolveRig(given: NonNullable<DrillInput["rig"]>): RigSpec {
	if (given.kind === "pivot")
		return {
			kind: "pivot",
			axis: given.axis,
			throughM: given.through,
			addedInertiaKgM2: given.addedInertia ?? 0,
			frictionNmSec: given.friction ?? 0,
			startAngleRad: given.startAngle ?? 0,
			stopAngleRad: given.stopAngle ?? null,
		};
	return {
		kind: "strings",
		axis: given.axis,
		strings: given.strings.map((each) => ({ bodyM: each.body, lengthM: each.length })),
		stiffnessNPerM: given.stiffness ?? CORD.stiffnessNPerM,
		dampingNSecPerM: given.damping ?? CORD.dampingNSecPerM,
		startAngleRad: given.startAngle ?? 0,
	};
}

/** Clamped to a bar that runs fore and aft a tenth of the span above its middle: invented, in proportion to the craft. */
export function standardPivot({ bare, airframe }: Craft): PivotSpec {
	const [x, y, z] = bare.centreOfMassM;
	return {
		kind: "pivot",
		axis: "roll",
		throughM: [x, y, z - 0.1 * airframe.spanM],
		addedInertiaKgM2: 0.1 * bare.inertiaKgM2[0],
		frictionNmSec: 0.1 * bare.inertiaKgM2[0],
		startAngleRad: 0,
		stopAngleRad: Math.PI / 3,
	};
}

/** Hung by nose and tail, so that it rolls freely, from 1 m above: invented, cord that stretches by 5 mm under the weight. */
export function standardStrings({ bare, airframe }: Craft): StringsSpec {
	const [x, y, z] = bare.centreOfMassM;
	const up = z - 0.05 * airframe.spanM;
	const weightN = bare.massKg * 9.80665;
	const stiffnessNPerM = weightN / 2 / 0.005;
	return {
		kind: "strings",
		axis: "roll",
		strings: [
			{ bodyM: [x + 0.25 * airframe.spanM, y, up], lengthM: 1 },
			{ bodyM: [x - 0.25 * airframe.spanM, y, up], lengthM: 1 },
		],
		stiffnessNPerM,
		dampingNSecPerM: 0.2 * Math.sqrt(2 * stiffnessNPerM * bare.massKg),
		startAngleRad: 0,
	};
}
