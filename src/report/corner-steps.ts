import type { AxisName, GainSet } from "../control/spec.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../craft/model.ts";
import { type Drill, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import { type CornerFan, cornerFan } from "../pictures/corner-fan.ts";
import type { NamedSet, PictureHead } from "../pictures/looks.ts";
import type { Picture } from "../pictures/picture.ts";

const DEG = 180 / Math.PI;
const STEP_DEG = 5;
const STEP_AT = 0.25;
const DURATION = 2;

/** One corner's answer, degrees (yaw: degrees a second), over the times of the nominal one; shorter where the flight ended early. */
export interface CornerStep {
	readonly name: string;
	readonly values: Float64Array;
}

/** A set-point step on one axis flown at the nominal point. Seconds, degrees. */
export interface NominalStep {
	readonly timeSec: Float64Array;
	readonly values: Float64Array;
	readonly setPoint: Float64Array;
}

const degrees = (column: Float64Array): Float64Array => column.map((v) => v * DEG);

/** What is flown in every corner: a step of 5 degrees (yaw: 5 degrees a second) in still air, without noise and rounding. */
function stepDrill(axis: AxisName): Drill {
	return {
		name: `${axis} step`,
		about: "",
		durationSec: DURATION,
		heightM: 200,
		seed: 1,
		events: [
			axis === "yaw"
				? { atSec: STEP_AT, kind: "rate", axis, rateRadPerSec: STEP_DEG / DEG }
				: { atSec: STEP_AT, kind: "angle", axis, angleRad: STEP_DEG / DEG },
		],
		wind: STILL_AIR,
	};
}

const columnOf = (axis: AxisName): string => (axis === "yaw" ? "yawRate" : axis);

function flown(craft: Craft, set: GainSet, axis: AxisName, point: OperatingPoint) {
	const drill = stepDrill(axis);
	return fly({ craft, point, gainSet: set, drill, options: { noise: false, rounding: false } }).trace.columns;
}

export function nominalStep(craft: Craft, set: GainSet, axis: AxisName): NominalStep {
	const columns = flown(craft, set, axis, NOMINAL_POINT);
	return {
		timeSec: columns["time"]!,
		values: degrees(columns[columnOf(axis)]!),
		setPoint: degrees(columns[`${columnOf(axis)}SetPoint`]!),
	};
}

export function cornerStep(
	craft: Craft,
	set: GainSet,
	axis: AxisName,
	corner: { readonly name: string; readonly point: OperatingPoint },
): CornerStep {
	const columns = flown(craft, set, axis, corner.point);
	return { name: corner.name, values: degrees(columns[columnOf(axis)]!) };
}

/** The picture's words and numbers; the corner furthest from nominal counts as the worst. */
export function cornerFanOf(
	head: PictureHead,
	named: NamedSet,
	axis: AxisName,
	nominal: NominalStep,
	corners: readonly CornerStep[],
): CornerFan {
	const middle = nominal.values;
	const distance = corners.map(({ values }) =>
		values.reduce((most, v, i) => Math.max(most, Math.abs(v - (middle[i] ?? 0))), 0),
	);
	return {
		...head,
		label: axis === "yaw" ? "turn rate" : `${axis} angle`,
		unit: axis === "yaw" ? "deg/s" : "deg",
		set: named,
		timeSec: nominal.timeSec,
		nominal: middle,
		setPoint: nominal.setPoint,
		corners,
		worst: corners.length === 0 ? null : distance.indexOf(Math.max(...distance)),
	};
}

/** A set-point step on one axis flown at the nominal point and in every corner; the furthest from nominal is named. */
export function cornerFanPicture(
	head: PictureHead,
	craft: Craft,
	set: GainSet,
	named: NamedSet,
	corners: readonly { readonly name: string; readonly point: OperatingPoint }[],
	axis: AxisName,
): Picture {
	const all = corners.map((corner) => cornerStep(craft, set, axis, corner));
	return cornerFan(cornerFanOf(head, named, axis, nominalStep(craft, set, axis), all));
}
