import type { AxisName } from "../control/spec.ts";
import type { RigSpec } from "../physics/rig-spec.ts";
import type { AxisMargins } from "./report-types.ts";

/** What the same gains meet on the rig and in the air. */
export interface RigReport {
	readonly kind: RigSpec["kind"];
	readonly axis: AxisName;
	readonly geometry: RigGeometry;
	/** Throttle over that of hover, as the drill holds it when its axis is first asked for something. */
	readonly ofHover: number;
	/** Null where there is nothing to hold margins about, with the reason. */
	readonly loops: { readonly rig: RigLoop; readonly air: RigLoop } | null;
	readonly why: string;
	/** Why the rig misleads, with numbers. */
	readonly sentences: readonly string[];
}

export interface RigGeometry {
	/** About the axis: of the craft about its own middle, of its mass swinging about the pivot, of the rig; their sum over the first. */
	readonly craftInertiaKgM2: number;
	readonly swingingInertiaKgM2: number;
	readonly rigInertiaKgM2: number;
	readonly inertiaFactor: number;
	/** Torque that holds it a radian off level, motors apart; below 0 it topples. */
	readonly stiffnessNmPerRad: number;
	/** Without the loop: of the swing; null where it topples, or nothing pulls it back. */
	readonly periodSec: number | null;
	/** Strings have a second, faster one. */
	readonly fastPeriodSec: number | null;
	readonly frictionNmSec: number;
	/** Of u, per degree of lean, that the stiffness takes; null for none. */
	readonly outputPctPerDeg: number | null;
}

/** The axis's loop in one place. */
export interface RigLoop {
	readonly margins: AxisMargins;
	/** Of what swings with the loop closed, 1/s; above 0 it swings up by itself. */
	readonly growthPerSec: number;
}
