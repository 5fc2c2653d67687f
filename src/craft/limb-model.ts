import type { Vec3 } from "../math/types.ts";
import type { MassProperties } from "./mass-properties.ts";

/** The reach arm: hinged links one after another, described folded (every hinge at 0), body axes from the reference point. */
export interface Limb {
	/** From the airframe outwards; each turns about a hinge of the one before. */
	readonly links: readonly LimbLink[];
	/** The craft without its links. */
	readonly frame: MassProperties;
	/** Where a load is held; moves with the last link. */
	readonly gripM: Vec3;
	/** Room about the grip that must stay clear of propellers. */
	readonly gripRadiusM: number;
}

export interface LimbLink {
	readonly name: string;
	readonly hingeM: Vec3;
	/** Unit vector; positive angles turn right-handed about it. */
	readonly axis: Vec3;
	/** The far end. */
	readonly tipM: Vec3;
	readonly diameterM: number;
	/** Drag coefficient times side area. */
	readonly dragAreaM2: number;
	readonly mass: MassProperties;
	readonly travelRad: readonly [number, number];
	readonly servo: LimbServo;
}

export interface LimbServo {
	readonly rateLimitRadPerSec: number;
	readonly torqueLimitNm: number;
	readonly naturalRadPerSec: number;
	readonly dampingRatio: number;
	/** Between servo and link; null: stiff. */
	readonly stiffnessNmPerRad: number | null;
	/** Whole play. */
	readonly backlashRad: number;
	readonly jitterRad: number;
	readonly jitterHz: number;
	/** At full torque. */
	readonly stallCurrentA: number;
}

/** The load on a tether from where it is held, swinging free. */
export interface Tether {
	readonly lengthM: number;
	readonly dampingRatio: number;
}

/** Liquid that sloshes, as a pendulum inside the load. */
export interface Slosh {
	/** Of the load's mass. */
	readonly share: number;
	readonly lengthM: number;
	readonly dampingRatio: number;
}
