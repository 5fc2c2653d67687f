import type { Mat3, Vec3 } from "../math/types.ts";
import type { Limb, Slosh, Tether } from "./limb-model.ts";
import type { MassProperties } from "./mass-properties.ts";

export type { MassProperties } from "./mass-properties.ts";

/**
 * The craft as numbers, complete: every default has been filled in. SI and radians throughout; positions
 * in the body frame (forward-right-down) from the airframe's reference point.
 */
export interface Craft {
	readonly name: string;
	/** True for demo data that no one built. */
	readonly invented: boolean;
	/** The empty craft: everything that flies but the load. */
	readonly bare: MassProperties;
	/** The heaviest load this craft is meant to carry; mass 0 where none was stated. */
	readonly load: Load;
	/** Left out: none. */
	readonly limb?: Limb;
	readonly rotors: readonly Rotor[];
	readonly propulsion: Propulsion;
	readonly battery: Battery;
	readonly air: Air;
	readonly airframe: Airframe;
	readonly timing: Timing;
	readonly sensors: Sensors;
	readonly mixer: MixerSpec;
	readonly sticks: Sticks;
	readonly supply: Supply;
	readonly safety: Safety;
	readonly uncertainty: Uncertainty;
}

export interface Load {
	readonly massKg: number;
	readonly positionM: Vec3;
	/** About the load's own centre of mass, body axes. */
	readonly inertiaKgM2: Mat3;
	/** Edge of the cube that it is taken for. */
	readonly sizeM?: number;
	/** Always held by the limb, positionM being where that is while it is folded. */
	readonly inGrip?: boolean;
	/** From the grip to its centre while the limb is folded. */
	readonly gripOffsetM?: Vec3;
	readonly tether?: Tether;
	readonly liquid?: Slosh;
}

export interface Rotor {
	/** By place, such as 'front right'. */
	readonly place: string;
	/** The builder's own number for this motor. */
	readonly motorNumber: number;
	readonly positionM: Vec3;
	/** Unit vector along which thrust pushes; upright is (0, 0, -1). */
	readonly axis: Vec3;
	/** +1 clockwise seen from above, -1 counter-clockwise. */
	readonly spin: 1 | -1;
	/** This rotor's steady speed over the nominal one. */
	readonly speedFactor: number;
}

/** What one motor with its propeller does. Coefficients hold at `referenceDensityKgM3`. */
export interface Propulsion {
	readonly radiusM: number;
	/** N / (rad/s)^2 */
	readonly thrustCoefficient: number;
	/** N m / (rad/s)^2 */
	readonly torqueCoefficient: number;
	/** Axial inflow: N / ((rad/s)(m/s)) */
	readonly inflowCoefficient: number;
	/** In-plane drag: N / ((rad/s)(m/s)) */
	readonly inPlaneDragCoefficient: number;
	/** Propeller and motor bell about the shaft. */
	readonly rotorInertiaKgM2: number;
	readonly referenceDensityKgM3: number;
	readonly tauUpSec: number;
	readonly tauDownSec: number;
	readonly curve: SpeedCurve;
}

/** Steady rotor speed over command at `referenceVoltageV`; straight lines are two points. PCHIP between. */
export interface SpeedCurve {
	/** Rising, first entry where the motor starts (below it: speed 0), last entry 1. */
	readonly commands: readonly number[];
	readonly speedsRadPerSec: readonly number[];
	readonly referenceVoltageV: number;
}

export interface Battery {
	/** Rising states of charge, 0..1. */
	readonly stateOfCharge: readonly number[];
	readonly openCircuitV: readonly number[];
	readonly resistanceOhm: number;
	readonly capacityAmpereHours: number;
	/** Shaft power over electrical power, motor and speed controller together. */
	readonly efficiency: number;
	readonly avionicsPowerW: number;
	/** Below this battery voltage the electronics or the speed controllers give up. */
	readonly brownOutV: number;
	/** Named states of charge. */
	readonly full: number;
	readonly nominal: number;
	readonly nearlyEmpty: number;
}

export interface Air {
	readonly densityKgM3: number;
}

export interface Airframe {
	/** Drag area per body axis. */
	readonly dragAreaM2: Vec3;
	readonly centreOfPressureM: Vec3;
	/** Whether Cheeseman and Bennett's ground effect is applied. */
	readonly groundEffect: boolean;
	/** From the reference point down to the feet. */
	readonly feetBelowM: number;
	/** Where it touches the ground, body axes from the reference point; three at least. */
	readonly feetM: readonly Vec3[];
	/** Tip-to-tip span, for turbulence. */
	readonly spanM: number;
}

/** All clocks are whole microseconds. A free phase means: unknown, so the worst is taken. */
export interface Clock {
	readonly periodUs: number;
	readonly phaseUs: number | "free";
}

export interface Timing {
	readonly gyro: Clock;
	/** From gyro sample to its arrival in the loop. */
	readonly gyroBusUs: number;
	readonly attitude: AttitudeSource;
	readonly control: ControlClock;
	/** From the start of a control tick to the new commands being published. */
	readonly computeUs: number;
	/** Speed-controller frame: the clock at which published commands are latched. */
	readonly escFrame: Clock;
	readonly pulse: Pulse;
	readonly receiver: Clock;
}

/**
 * 'loop': angles are taken at every gyro sample and arrive with it. 'fused': an on-board estimator with its
 * own clock and latency.
 */
export type AttitudeSource =
	| { readonly kind: "loop" }
	| { readonly kind: "fused"; readonly clock: Clock; readonly latencyUs: number };

interface ControlClock {
	readonly periodUs: number;
	/** Uniform on +-jitter about the regular tick. */
	readonly jitterUs: number;
	/** Chance that a tick is skipped. */
	readonly skipChance: number;
}

/**
 * 'width': the command is the length of a pulse from shortestUs to longestUs and known only at its end, so the
 * transport delay is the pulse itself. 'digital': a fixed transport delay.
 */
export type Pulse =
	| {
			readonly kind: "width";
			readonly shortestUs: number;
			readonly longestUs: number;
			readonly resolutionUs: number;
	  }
	| { readonly kind: "digital"; readonly transportUs: number; readonly steps: number };

export interface Sensors {
	/** Continuous first-order low-pass inside the gyro before sampling; null for none. */
	readonly gyroLowPassHz: number | null;
	/** White noise before the low-pass, one-sided density. */
	readonly gyroNoiseRadPerSecPerRootHz: number;
	readonly gyroBiasRadPerSec: Vec3;
	/** Amplitude of each rotor's line in the gyro at hover speed, grows as speed squared. */
	readonly vibrationRadPerSec: number;
	readonly gyroResolutionRadPerSec: number;
	/** Added to roll and pitch angle. */
	readonly levelOffsetRad: readonly [number, number];
	/** Standard deviation of the roll and pitch angle samples. */
	readonly attitudeNoiseRad: number;
	/** Complementary estimator's time constant; null: the accelerometer does not feed through. */
	readonly estimatorTimeConstantSec: number | null;
}

export interface MixerSpec {
	/** Rows per rotor in `rotors` order: roll, pitch, yaw; null: pseudo-inverse of the bare craft. */
	readonly table: readonly Vec3[] | null;
	readonly batteryCompensation: boolean;
	/** 0 none .. 1: command proportional to thrust. */
	readonly thrustLinearisation: number;
	/** The least command while live. */
	readonly lowestSpin: number;
	/** How far throttle may be raised to make room for roll and pitch near lowest spin. */
	readonly throttleRiseCap: number;
}

export interface StickCalibration {
	readonly lowUs: number;
	readonly centreUs: number;
	readonly highUs: number;
	readonly reverse: boolean;
	/** Either side of centre, as a share of full deflection. */
	readonly deadBand: number;
	/** 0 straight .. 1 soft about the centre. */
	readonly centreSoftness: number;
}

export interface Sticks {
	readonly roll: StickCalibration;
	readonly pitch: StickCalibration;
	readonly yaw: StickCalibration;
	readonly throttle: StickCalibration;
	/** Set-point at full stick. */
	readonly fullTiltRad: number;
	readonly fullTurnRateRadPerSec: number;
	/** Tilt rate at full stick in rate-only use. */
	readonly fullTiltRateRadPerSec: number;
}

/** Relative bounds (0.1 is plus or minus 10 %) that corners are made from. */
export interface Uncertainty {
	readonly inertia: number;
	readonly thrust: number;
	readonly motorLag: number;
}

/** What feeds the electronics, and servos beside them, from the battery. */
export interface Supply {
	readonly outputV: number;
	/** Least battery voltage above the output. */
	readonly dropoutV: number;
	readonly limitA: number;
	/** Below this at the output the controller restarts. */
	readonly brownOutV: number;
}

/** What the firmware does by itself when something is wrong. */
export interface Safety {
	/** How long without a receiver frame counts as lost. */
	readonly signalLostAfterUs: number;
	/** 'keep': flies on with the last sticks; 'makeSafe': motors off; a throttle: level, at that throttle. */
	readonly onSignalLoss: "keep" | "makeSafe" | { readonly throttle: number };
	/** Motors are made live only below this throttle; null: at any. */
	readonly liveBelowThrottle: number | null;
	/** And only below this tilt; null: at any. */
	readonly liveBelowTiltRad: number | null;
}

/** What changes everything at once. */
export interface OperatingPoint {
	readonly battery: "full" | "nominal" | "nearlyEmpty" | { readonly stateOfCharge: number };
	readonly load: "none" | "heaviest" | { readonly massKg: number };
	/** 'hover' trims level flight; 'full' is the mixer's upper end; a number is a throttle 0..1. */
	readonly throttle: "hover" | "full" | number;
	/** Mean wind the craft holds position in, NED. */
	readonly windMPerSec: Vec3;
	/** Angle of each hinge from folded, the load in the grip; left out: folded, the load where it is carried. */
	readonly limbRad?: readonly number[];
	/** Factors of a corner. */
	readonly inertiaFactor: number;
	readonly thrustFactor: number;
	readonly motorLagFactor: number;
	/** Which lag the linear model uses; flights use both. 'mean': what a motor shows that speeds up as much as it slows down, 2/(1/up + 1/down). */
	readonly motorLag: "up" | "down" | "slower" | "mean";
}

export const NOMINAL_POINT: OperatingPoint = {
	battery: "nominal",
	load: "none",
	throttle: "hover",
	windMPerSec: [0, 0, 0],
	inertiaFactor: 1,
	thrustFactor: 1,
	motorLagFactor: 1,
	motorLag: "slower",
};

/** A value that the builder did not give. */
export interface Assumption {
	/** Path in the scenario file, such as `craft.motors.lagUp`. */
	readonly path: string;
	/** As a person reads it, with its unit. */
	readonly value: string;
	readonly because: string;
	/** A published source, or 'common practice, no source'. */
	readonly source: string;
	/** How to measure it on a bench. */
	readonly measure: string;
}
