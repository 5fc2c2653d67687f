import type { AxisName } from "../control/spec.ts";
import type { Vec3 } from "../math/types.ts";
import type { GroundSpec } from "../physics/ground-spec.ts";
import type { RigSpec } from "../physics/rig-spec.ts";

export { type GroundSpec, LEVEL_GROUND } from "../physics/ground-spec.ts";

/** One scripted test flight, from trim at its operating point. Times in seconds from the start. */
export interface Drill {
	readonly name: string;
	/** What it shows, one sentence. */
	readonly about: string;
	readonly durationSec: number;
	/** Height of the feet above ground at the start. */
	readonly heightM: number;
	readonly seed: number;
	readonly events: readonly DrillEvent[];
	readonly wind: WindSpec;
	/** Left out: trimmed in the air at heightM. 'ground': at rest on its feet, motors safe, throttle 0. */
	readonly start?: "hover" | "ground";
	/** Left out: LEVEL_GROUND. */
	readonly ground?: GroundSpec;
	/** What holds the craft; left out: nothing. */
	readonly rig?: RigSpec;
}

export type DrillEvent =
	/** Angle set-point (roll, pitch), direct. */
	| {
			readonly atSec: number;
			readonly kind: "angle";
			readonly axis: "roll" | "pitch";
			readonly angleRad: number;
	  }
	/** Rate set-point: yaw always, roll and pitch in rate-only use. */
	| { readonly atSec: number; readonly kind: "rate"; readonly axis: AxisName; readonly rateRadPerSec: number }
	/** A stick moved to a raw reading; reaches the loop at the next receiver frame. */
	| {
			readonly atSec: number;
			readonly kind: "stick";
			readonly axis: AxisName | "throttle";
			readonly readingUs: number;
	  }
	/** Throttle 0..1, direct; `ofHover` adds so many times the throttle of the trim. */
	| {
			readonly atSec: number;
			readonly kind: "throttle";
			readonly throttle: number;
			readonly ofHover?: number;
	  }
	/** A torque from outside, body axes, from atSec for durationSec. */
	| { readonly atSec: number; readonly kind: "torque"; readonly torqueNm: Vec3; readonly durationSec: number }
	/** A force from outside at the centre of mass, world axes. */
	| { readonly atSec: number; readonly kind: "force"; readonly forceN: Vec3; readonly durationSec: number }
	/** The control loop does not run for durationSec; sensors and speed controllers go on. */
	| { readonly atSec: number; readonly kind: "stall"; readonly durationSec: number }
	/**
	 * A load, free and at rest, is taken up: where it stands folded, moving with the limb where it is in the grip. `fromGround`: it stands on the ground
	 * straight below where it would be held, and is taken up only where that is within reach.
	 */
	| {
			readonly atSec: number;
			readonly kind: "takeUp";
			readonly massKg: number;
			readonly positionM: Vec3;
			readonly inGrip?: boolean;
			readonly fromGround?: boolean;
	  }
	/**
	 * A link of the limb goes to an angle from folded, at a pace that would take `overSec` where given, else as fast as its servo does. With a measured `profile` it moves through
	 * those points of [time from atSec, angle from folded] whatever torque that takes; the last is `angleRad`.
	 */
	| {
			readonly atSec: number;
			readonly kind: "limb";
			readonly link: number;
			readonly angleRad: number;
			readonly overSec?: number;
			readonly profile?: readonly (readonly [number, number])[];
	  }
	/** The grip is held to the world where it is, by a spring and damper. */
	| {
			readonly atSec: number;
			readonly kind: "stuckGrip";
			readonly stiffnessNPerM: number;
			readonly dampingNSecPerM: number;
			readonly durationSec: number;
	  }
	/** What is carried leaves; `unnoticed`: the firmware goes on as if it still carried it. */
	| { readonly atSec: number; readonly kind: "letGo"; readonly unnoticed?: boolean }
	/** Motors enabled, at lowest spin at least; or disabled: commands 0, integrals reset. In the air a craft begins live. */
	| { readonly atSec: number; readonly kind: "makeLive" }
	| { readonly atSec: number; readonly kind: "makeSafe" }
	/** From here on throttle is moved towards this height of the feet: by a plain law, or by a model of a person at the stick. */
	| {
			readonly atSec: number;
			readonly kind: "height";
			readonly heightM: number;
			readonly by: "law" | "pilot";
	  }
	/** Throttle stays where it is. */
	| { readonly atSec: number; readonly kind: "leaveThrottle" }
	/** A foot (index into the craft's feet) is held to the ground until it is pulled with more than holdN. */
	| { readonly atSec: number; readonly kind: "stuckFoot"; readonly foot: number; readonly holdN: number }
	/** A sensor goes on saying what it last said. */
	| {
			readonly atSec: number;
			readonly kind: "frozen";
			readonly sensor: "gyro" | "attitude";
			readonly durationSec: number;
	  }
	/** A wrong amount on top of a sensor's axis: rad/s for the gyro, rad for attitude. */
	| {
			readonly atSec: number;
			readonly kind: "glitch";
			readonly sensor: "gyro" | "attitude";
			readonly axis: AxisName;
			readonly size: number;
			readonly durationSec: number;
	  }
	/** Ticks come late or early by up to jitterUs, and skipChance of them not at all. */
	| {
			readonly atSec: number;
			readonly kind: "looseLoop";
			readonly jitterUs: number;
			readonly skipChance: number;
			readonly durationSec: number;
	  }
	/** No receiver frame arrives. */
	| { readonly atSec: number; readonly kind: "framesLost"; readonly durationSec: number }
	/** Servos take this much from the electronics supply. */
	| {
			readonly atSec: number;
			readonly kind: "servoLoad";
			readonly powerW: number;
			readonly durationSec: number;
	  };

export interface WindSpec {
	/** At 20 ft (6.096 m) if sheared, else everywhere; NED. */
	readonly meanMPerSec: Vec3;
	/** Roughness length of the log law; null: no shear. */
	readonly roughnessM: number | null;
	readonly gusts: readonly GustSpec[];
	readonly turbulence: TurbulenceSpec | null;
}

/** 1-cosine, over riseSec to peak; 'returns' goes back to zero in the same time, 'holds' stays. */
export interface GustSpec {
	readonly atSec: number;
	readonly velocityMPerSec: Vec3;
	readonly riseSec: number;
	readonly ending: "returns" | "holds";
}

/** Dryden, low altitude (MIL-F-8785C). */
export interface TurbulenceSpec {
	/** W20 in m/s: wind at 20 ft that sets the intensity. */
	readonly windAt20FtMPerSec: number;
}

export const STILL_AIR: WindSpec = { meanMPerSec: [0, 0, 0], roughnessM: null, gusts: [], turbulence: null };
