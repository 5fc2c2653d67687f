import type { AxisName, GainSet } from "../control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../craft/model.ts";
import { type Drill, STILL_AIR } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import { cornerFan } from "../pictures/corner-fan.ts";
import type { NamedSet, PictureHead } from "../pictures/looks.ts";
import { pictureSvg } from "../pictures/svg.ts";
import type { TuneCorner } from "../tuning/result.ts";

const DEG = 180 / Math.PI;
const STEP_DEG = 5;
const STEP_AT = 0.25;
const DURATION = 2;

/** A set-point step on one axis flown at the nominal point and in every corner; the furthest from nominal is named. */
export function cornerFanSvg(
	head: PictureHead,
	craft: Craft,
	set: GainSet,
	named: NamedSet,
	corners: readonly TuneCorner[],
	axis: AxisName,
): string {
	const yaw = axis === "yaw";
	const drill: Drill = {
		name: `${axis} step`,
		about: "",
		durationSec: DURATION,
		heightM: 200,
		seed: 1,
		events: [
			yaw
				? { atSec: STEP_AT, kind: "rate", axis, rateRadPerSec: STEP_DEG / DEG }
				: { atSec: STEP_AT, kind: "angle", axis, angleRad: STEP_DEG / DEG },
		],
		wind: STILL_AIR,
	};
	const flown = (point: TuneCorner["point"]) =>
		fly({ craft, point, gainSet: set, drill, options: { noise: false, rounding: false } }).trace;
	const value = yaw ? "yawRate" : axis;
	const nominal = flown(NOMINAL_POINT);
	const degrees = (column: Float64Array): Float64Array => column.map((v) => v * DEG);
	const middle = degrees(nominal.columns[value]!);
	const all = corners.map(({ name, point }) => ({ name, values: degrees(flown(point).columns[value]!) }));
	const distance = all.map(({ values }) =>
		values.reduce((most, v, i) => Math.max(most, Math.abs(v - (middle[i] ?? 0))), 0),
	);
	return pictureSvg(
		cornerFan({
			...head,
			label: yaw ? "turn rate" : `${axis} angle`,
			unit: yaw ? "deg/s" : "deg",
			set: named,
			timeSec: nominal.columns["time"]!,
			nominal: middle,
			setPoint: degrees(nominal.columns[`${value}SetPoint`]!),
			corners: all,
			worst: all.length === 0 ? null : distance.indexOf(Math.max(...distance)),
		}),
	);
}
