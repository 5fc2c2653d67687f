import type { AxisGains, AxisName, GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { PropellerFault, Wiring } from "../flight/wiring.ts";
import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";

const PER_DEGREE = 180 / Math.PI;

/** One mistake that people make, and the wirings it can stand for on a craft. */
export interface WrongKind {
	/** As the command line takes it. */
	readonly kind: string;
	readonly title: string;
	/** How many motors `--motors` may name; 0: the mistake concerns none. */
	readonly motors: 0 | 1 | 2;
	/** Every way in which this craft can have it, by rotors concerned (indices); one entry without rotors where it concerns none. */
	waysOn(craft: Craft): readonly (readonly number[])[];
	wiring(set: GainSet, craft: Craft, rotors: readonly number[]): Wiring;
	/** Seen without power, by looking at the parts; empty where nothing shows. */
	readonly byEye: string;
	/** The axis that must be asked for something before it shows; null: none. */
	readonly asks: AxisName | null;
}

const everyRotor = (craft: Craft) => craft.rotors.map((_, i) => [i]);

const everyPair = (craft: Craft) =>
	craft.rotors.flatMap((_, i) => craft.rotors.slice(i + 1).map((_, k) => [i, i + 1 + k]));

const once = () => [[]];

const plain = (kind: string, title: string, wiring: (set: GainSet, craft: Craft) => Wiring): WrongKind => ({
	kind,
	title,
	motors: 0,
	waysOn: once,
	wiring: (set, craft) => wiring(set, craft),
	byEye: "",
	asks: null,
});

const propeller = (kind: string, title: string, fault: PropellerFault, byEye: string): WrongKind => ({
	kind,
	title,
	motors: 1,
	waysOn: everyRotor,
	wiring: (_set, _craft, rotors) => ({ propellers: rotors.map((rotor) => ({ rotor, fault })) }),
	byEye,
	asks: null,
});

/** Craft's axes to board's when the board sits turned about the vertical, clockwise seen from above. */
function boardTurned(degrees: 90 | -90 | 180): Mat3 {
	const c = degrees === 180 ? -1 : 0;
	const s = degrees === 180 ? 0 : Math.sign(degrees);
	return [c, s, 0, -s, c, 0, 0, 0, 1];
}

function withAxes(set: GainSet, change: (gains: AxisGains) => AxisGains): GainSet {
	return { ...set, roll: change(set.roll), pitch: change(set.pitch), yaw: change(set.yaw) };
}

/** The integral's gains, rate and angle, times a factor. */
const integrals = (set: GainSet, factor: number): GainSet =>
	withAxes(set, (g) => ({ ...g, ki: g.ki * factor, kAngleI: g.kAngleI * factor }));

/** Everything per radian times a factor; kAngle, 1/s, is the same in both units. */
const perAngle = (set: GainSet, factor: number): GainSet =>
	withAxes(set, (g) => ({
		...g,
		kp: g.kp * factor,
		ki: g.ki * factor,
		kd: g.kd * factor,
		kff: g.kff * factor,
	}));

const periodSec = (craft: Craft): number => craft.timing.control.periodUs * 1e-6;

const stickReversed = (axis: AxisName, stickSigns: Vec3): WrongKind => ({
	...plain(`stick-reversed-${axis}`, `stick reversed, ${axis}`, () => ({ stickSigns })),
	asks: axis,
});

const gyroSign = (axis: AxisName, m: Mat3): WrongKind =>
	plain(`gyro-sign-${axis}`, `gyro sign wrong, ${axis}`, () => ({ gyro: m }));

export const WRONG_KINDS: readonly WrongKind[] = [
	{
		kind: "motors-swapped",
		title: "two motors swapped",
		motors: 2,
		waysOn: everyPair,
		wiring: (_set, craft, [a, b]) => ({
			drives: craft.rotors.map((_, i) => (i === a ? b! : i === b ? a! : i)),
		}),
		byEye: "",
		asks: null,
	},
	propeller(
		"propeller-upside-down",
		"propeller upside down",
		"upsideDown",
		"the face with the writing looks down, and the thin edge of the blades goes first",
	),
	propeller(
		"propeller-wrong-hand",
		"propeller of the wrong hand",
		"wrongHand",
		"going round as the motor turns, the lower edge of each blade goes first: it screws itself down, not up",
	),
	plain("gyro-axes-swapped", "gyro axes swapped, roll and pitch", () => ({
		gyro: [0, 1, 0, 1, 0, 0, 0, 0, 1],
	})),
	gyroSign("roll", mat3.diagonal(-1, 1, 1)),
	gyroSign("pitch", mat3.diagonal(1, -1, 1)),
	gyroSign("yaw", mat3.diagonal(1, 1, -1)),
	stickReversed("roll", [-1, 1, 1]),
	stickReversed("pitch", [1, -1, 1]),
	stickReversed("yaw", [1, 1, -1]),
	plain("board-turned-right", "sensor board turned 90 deg clockwise", () => ({ board: boardTurned(90) })),
	plain("board-turned-left", "sensor board turned 90 deg counter-clockwise", () => ({
		board: boardTurned(-90),
	})),
	plain("board-turned-round", "sensor board turned 180 deg", () => ({ board: boardTurned(180) })),
	plain("spin-table-inverted", "whole spin table inverted", () => ({ yawReversed: true })),
	plain("integral-per-tick", "integral adds up per tick a gain meant per second", (set, craft) => ({
		gainSet: integrals(set, 1 / periodSec(craft)),
	})),
	plain("integral-period-twice", "integral gain meant per tick taken per second", (set, craft) => ({
		gainSet: integrals(set, periodSec(craft)),
	})),
	plain("gyro-in-degrees", "gyro in deg/s taken for rad/s", () => ({
		gyro: mat3.diagonal(PER_DEGREE, PER_DEGREE, PER_DEGREE),
	})),
	plain("gyro-converted-twice", "gyro turned from degrees to radians twice", () => ({
		gyro: mat3.diagonal(1 / PER_DEGREE, 1 / PER_DEGREE, 1 / PER_DEGREE),
	})),
	plain("angles-in-degrees", "angles in degrees taken for radians", () => ({ angleFactor: PER_DEGREE })),
	plain("gains-per-radian", "gains per radian used on degrees", (set) => ({
		gainSet: perAngle(set, PER_DEGREE),
	})),
	plain("gains-per-degree", "gains per degree used on radians", (set) => ({
		gainSet: perAngle(set, 1 / PER_DEGREE),
	})),
];
