import type { Vec3 } from "../math/types.ts";

/** Rigs that people judge gains on. Positions in body axes from the reference point; the craft stands level, heading north, where it would hover. */
export type RigSpec = PivotSpec | StringsSpec;

/** Turns about one body axis through a point at rest, with what the rig adds. */
export interface PivotSpec {
	readonly kind: "pivot";
	readonly axis: "roll" | "pitch" | "yaw";
	readonly throughM: Vec3;
	readonly addedInertiaKgM2: number;
	/** Viscous, N m per rad/s. */
	readonly frictionNmSec: number;
	readonly startAngleRad: number;
	/** Where it strikes an end on either side, without a bounce; null: it goes all round. */
	readonly stopAngleRad: number | null;
}

/** Hangs on strings that only pull, each from a body point to a fixed point that stands its length over it when level. */
export interface StringsSpec {
	readonly kind: "strings";
	/** The axis that is judged on it, and about which it is turned at the start, around the middle of the tied points. */
	readonly axis: "roll" | "pitch" | "yaw";
	/** `lengthM`: unstretched. */
	readonly strings: readonly { readonly bodyM: Vec3; readonly lengthM: number }[];
	/** Of one string: force over stretch, and over how fast it stretches. */
	readonly stiffnessNPerM: number;
	readonly dampingNSecPerM: number;
	readonly startAngleRad: number;
}
