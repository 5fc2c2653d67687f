import type { Vec3 } from "../math/types.ts";

/**
 * A craft as its builder wrote it, in SI and radians: what is absent was not given and gets a default.
 * Inertia as [xx, yy, zz] or [xx, yy, zz, xy, xz, yz] (tensor entries, so xy is -sum m x y).
 */
export interface CraftInput {
	readonly name?: string;
	readonly invented?: boolean;
	readonly mass?: number;
	readonly centreOfMass?: Vec3;
	readonly inertia?: readonly number[];
	readonly parts?: readonly PartInput[];
	readonly wheelbase?: number;
	readonly layout?: LayoutWord;
	readonly frontRightSpin?: SpinWord;
	readonly motorNumbers?: readonly number[];
	readonly rotorHeight?: number;
	readonly rotors?: readonly RotorInput[];
	readonly propeller?: PropellerInput;
	readonly motors?: MotorsInput;
	readonly battery?: BatteryInput;
	readonly air?: { readonly density?: number; readonly altitude?: number; readonly temperature?: number };
	readonly airframe?: AirframeInput;
	readonly load?: LoadInput;
	readonly limb?: LimbInput;
	readonly timing?: TimingInput;
	readonly sensors?: SensorsInput;
	readonly mixer?: MixerInput;
	readonly sticks?: SticksInput;
	readonly supply?: SupplyInput;
	readonly safety?: SafetyInput;
	readonly uncertainty?: {
		readonly inertia?: SpreadInput;
		readonly thrust?: SpreadInput;
		readonly motorLag?: SpreadInput;
	};
}

export interface LoadInput {
	readonly mass: number;
	/** Carried there; left out with a limb: in its grip. */
	readonly position?: Vec3;
	readonly size?: number;
	readonly inertia?: readonly number[];
	/** From the grip to the load's middle, limb folded. */
	readonly gripOffset?: Vec3;
	readonly tether?: { readonly length: number; readonly damping?: number };
	readonly liquid?: {
		readonly share?: number;
		readonly pendulum?: number;
		readonly diameter?: number;
		readonly depth?: number;
		readonly damping?: number;
	};
}

export interface LimbInput {
	readonly links: readonly LinkInput[];
	readonly grip?: Vec3;
	readonly gripRadius?: number;
}

export interface LinkInput {
	readonly name: string;
	readonly hinge: Vec3;
	readonly axis: "roll" | "pitch" | "yaw" | Vec3;
	readonly tip: Vec3;
	readonly diameter?: number;
	readonly parts?: readonly string[];
	readonly mass?: number;
	readonly centreOfMass?: Vec3;
	readonly inertia?: readonly number[];
	readonly travel?: readonly [number, number];
	readonly servo?: {
		readonly speed?: number;
		readonly torque?: number;
		readonly frequency?: number;
		readonly damping?: number;
		readonly stiffness?: number;
		readonly play?: number;
		readonly jitter?: number;
		readonly jitterFrequency?: number;
		readonly stallCurrent?: number;
	};
}

export interface SupplyInput {
	readonly output?: number;
	readonly dropout?: number;
	readonly limit?: number;
	readonly brownOut?: number;
}

export interface SafetyInput {
	readonly signalLostAfter?: number;
	readonly onSignalLoss?: "keep" | "makeSafe" | { readonly throttle: number };
	readonly liveBelowThrottle?: number;
	readonly liveBelowTilt?: number;
}

/** Relative: a number is a plus/minus bound. */
export type SpreadInput = number | { readonly plusMinus: number } | { readonly standardDeviation: number };

export type LayoutWord = "X" | "plus" | "hex" | "hex plus" | "octo" | "octo plus";
type SpinWord = "clockwise" | "counter-clockwise";

interface PartPlace {
	readonly name: string;
	readonly mass: number;
	readonly position?: Vec3;
	/** Z-Y-X turns (roll, pitch, yaw) of the part's own axes against the body's. */
	readonly orientation?: Vec3;
	/** How many of it, all at the same place unless `at` lists them. */
	readonly at?: readonly Vec3[];
}

export type PartInput =
	| (PartPlace & { readonly shape: "point" })
	/** Edges along its own x, y, z. */
	| (PartPlace & { readonly shape: "box"; readonly size: Vec3 })
	/** Solid, axis along its own z. */
	| (PartPlace & { readonly shape: "cylinder"; readonly diameter: number; readonly length: number })
	/** Thin, along its own x. */
	| (PartPlace & { readonly shape: "rod"; readonly length: number })
	/** Hollow cylinder, axis along its own x. */
	| (PartPlace & {
			readonly shape: "tube";
			readonly outerDiameter: number;
			readonly innerDiameter: number;
			readonly length: number;
	  });

export interface RotorInput {
	readonly place: string;
	readonly motor?: number;
	readonly position: Vec3;
	readonly spin: SpinWord;
	/** Of the thrust axis from straight up: forward (about pitch) and right (about roll). */
	readonly tiltForward?: number;
	readonly tiltRight?: number;
	readonly speedFactor?: number;
}

export interface PropellerInput {
	readonly diameter: number;
	readonly mass?: number;
	readonly blades?: number;
	/** Mean blade chord. */
	readonly chord?: number;
	/** Static thrust and power coefficients, T = CT rho n^2 D^4 and P = CP rho n^3 D^5 with n in turns per second. */
	readonly thrustNumber?: number;
	readonly powerNumber?: number;
}

export interface BenchPoint {
	readonly command: number;
	readonly thrust: number;
	readonly speed?: number;
	readonly torque?: number;
	readonly voltage?: number;
	/** Of one motor, into its speed controller. */
	readonly current?: number;
}

export interface MotorsInput {
	readonly maxThrust?: number;
	readonly maxSpeed?: number;
	readonly thrustCoefficient?: number;
	readonly torqueCoefficient?: number;
	readonly inflowCoefficient?: number;
	readonly inPlaneDragCoefficient?: number;
	readonly rotorInertia?: number;
	readonly bellMass?: number;
	readonly bellDiameter?: number;
	readonly startCommand?: number;
	readonly startSpeed?: number;
	readonly lag?: number;
	readonly lagUp?: number;
	readonly lagDown?: number;
	/** Air density and voltage that thrust, coefficients or the table were measured in. */
	readonly measuredDensity?: number;
	readonly measuredVoltage?: number;
	readonly bench?: readonly BenchPoint[];
}

export interface BatteryInput {
	readonly cells?: number;
	readonly capacity?: number;
	readonly resistance?: number;
	readonly efficiency?: number;
	readonly electronicsPower?: number;
	readonly brownOut?: number;
	readonly full?: number;
	readonly nominal?: number;
	readonly nearlyEmpty?: number;
	/** Per cell. */
	readonly openCircuit?: readonly { readonly charge: number; readonly cellVoltage: number }[];
}

interface AirframeInput {
	readonly dragArea?: Vec3;
	readonly centreOfPressure?: Vec3;
	readonly groundEffect?: boolean;
	readonly feetBelow?: number;
	readonly feet?: readonly Vec3[];
	readonly span?: number;
}

export interface ClockInput {
	readonly period?: number;
	readonly phase?: number | "free";
}

export interface TimingInput {
	readonly loop?: number;
	readonly jitter?: number;
	readonly skipChance?: number;
	readonly compute?: number;
	readonly gyro?: ClockInput & { readonly bus?: number };
	readonly attitude?:
		| { readonly source: "loop" }
		| ({ readonly source: "fused"; readonly latency?: number } & ClockInput);
	readonly frame?: ClockInput;
	readonly pulse?:
		| {
				readonly kind: "width";
				readonly shortest?: number;
				readonly longest?: number;
				readonly resolution?: number;
		  }
		| { readonly kind: "digital"; readonly transport?: number; readonly steps?: number };
	readonly receiver?: ClockInput;
}

interface SensorsInput {
	readonly gyroLowPass?: number | "none";
	readonly gyroNoise?: number;
	readonly gyroBias?: Vec3;
	readonly vibration?: number;
	readonly gyroResolution?: number;
	readonly levelOffset?: readonly [number, number];
	readonly attitudeNoise?: number;
	readonly estimatorTimeConstant?: number | "none";
}

interface MixerInput {
	readonly table?: readonly Vec3[];
	readonly batteryCompensation?: boolean;
	readonly thrustLinearisation?: number;
	readonly lowestSpin?: number;
	readonly throttleRiseCap?: number;
}

export interface StickInput {
	readonly low?: number;
	readonly centre?: number;
	readonly high?: number;
	readonly reverse?: boolean;
	readonly deadBand?: number;
	readonly centreSoftness?: number;
}

interface SticksInput {
	readonly roll?: StickInput;
	readonly pitch?: StickInput;
	readonly yaw?: StickInput;
	readonly throttle?: StickInput;
	readonly fullTilt?: number;
	readonly fullTurnRate?: number;
	readonly fullTiltRate?: number;
}
