import type { Mixer } from "../control/mixer.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { curveSpeed } from "../craft/speed-curve.ts";
import { toEuler } from "../math/quaternion.ts";
import type { Vec3 } from "../math/types.ts";
import type { Standing } from "../physics/ground.ts";
import type { HeldLimb } from "../physics/held-limb.ts";
import { AIR_SIZE, ESTIMATE, type Kernel, ROTORS, stateSize } from "../physics/kernel-layout.ts";
import { craftMixer } from "../physics/mixer-at.ts";
import type { Rig } from "../physics/pivot-rig.ts";
import type { Plant } from "../physics/plant.ts";
import { loadsAt } from "../physics/plant-at.ts";
import { settle, type Trim, type TrimResult, trimAt } from "../physics/trim.ts";
import type { Drill } from "./drill.ts";
import type { Layout } from "./layout.ts";
import { movesLimb } from "./limb-flight.ts";
import type { FlightSetup } from "./setup.ts";
import { blowSteadily, meanWind } from "./wind-field.ts";

export interface Start {
	readonly plant: Plant;
	readonly mixer: Mixer;
	readonly trim: Trim;
	/** The drill's mean wind where it has one, else the operating point's; NED. */
	readonly meanWindMPerSec: Vec3;
	/** The way a load hangs, body axes. */
	readonly down: Vec3;
	/** What each link's servo holds its pose with; its current is among the plant's electronics. */
	readonly servoNm: readonly number[];
	/** Empty, or why there is no trim to start from. */
	readonly noTrim: string;
}

/** Starts of a craft at a point, by the drill's height and wind: many flights differ in gains alone. */
const known = new WeakMap<Craft, WeakMap<OperatingPoint, Map<string, Start>>>();

/**
 * Trim at the drill's height and wind. A craft without one starts level, every motor at full command. Kept for the next
 * flight with the same craft and point objects; both are never changed after they are made.
 */
export function startOf({ craft, point, drill }: FlightSetup): Start {
	const { meanMPerSec, roughnessM } = drill.wind;
	const moves = movesLimb(craft, drill, loadsAt(craft, point));
	const key = `${drill.heightM} ${meanMPerSec.join(" ")} ${roughnessM} ${moves}`;
	const points = known.get(craft) ?? new WeakMap<OperatingPoint, Map<string, Start>>();
	known.set(craft, points);
	const starts = points.get(point) ?? new Map<string, Start>();
	points.set(point, starts);
	const start = starts.get(key) ?? freshStart(craft, point, drill, moves);
	starts.set(key, start);
	return start;
}

/** `moves`: the flight has limb and hanging load as bodies of their own, on which the air acts. */
function freshStart(craft: Craft, point: OperatingPoint, drill: Drill, moves: boolean): Start {
	const mixer = craftMixer(craft);
	const mean = meanWind(drill.wind, point.windMPerSec);
	const air = new Float64Array(AIR_SIZE);
	blowSteadily(drill.wind, mean, air);
	const trimFor = (each: Plant, held: HeldLimb | null): TrimResult =>
		trimAt(craft, each, point, { heightM: drill.heightM, air, mixer, held: moves ? held : null });
	const { plant, result, down, servoNm } = settle(craft, point, trimFor, air);
	const common = { plant, mixer, meanWindMPerSec: mean, down, servoNm };
	if (result.feasible) return { ...common, trim: result.trim, noTrim: "" };
	return { ...common, trim: fullCommand(plant, drill.heightM), noTrim: result.reason };
}

/** Continuous state, held readings, set-points and commands of the trim, level offset and bias included in the readings. */
export function holdTrim(craft: Craft, trim: Trim, layout: Layout, s: Float64Array, x: Float64Array): void {
	const { estimatorTimeConstantSec, gyroBiasRadPerSec, levelOffsetRad } = craft.sensors;
	x.set(trim.state);
	for (const i of [0, 1, 2] as const) {
		s[layout.rates + i] = gyroBiasRadPerSec[i];
		s[layout.angles + i] = trim.eulerRad[i];
	}
	for (const i of [0, 1] as const) {
		x[ESTIMATE + i] = (estimatorTimeConstantSec ?? 0) * gyroBiasRadPerSec[i];
		s[layout.angles + i]! += levelOffsetRad[i] + x[ESTIMATE + i]!;
		s[layout.angleSetPoint + i] = trim.eulerRad[i];
	}
	s[layout.throttle] = trim.throttle;
	s.set(trim.commands, layout.published);
	s.set(trim.commands, layout.applied);
}

/** At rest on its feet, motors still, throttle down; readings as the sensors see it there. */
export function holdRest(
	setup: FlightSetup,
	ground: Standing | null,
	layout: Layout,
	s: Float64Array,
	x: Float64Array,
	touch: Float64Array,
): void {
	const { estimatorTimeConstantSec, gyroBiasRadPerSec, levelOffsetRad } = setup.craft.sensors;
	const { name } = setup.drill;
	if (!ground) throw new RangeError(`drill '${name}': start 'ground' with a rig, expected 'hover'`);
	const falls = ground.rest(x, touch);
	if (falls) throw new RangeError(`drill '${name}': start 'ground', but ${falls}`);
	const euler = toEuler([x[6]!, x[7]!, x[8]!, x[9]!]);
	s[layout.angles + 2] = euler[2];
	for (const i of [0, 1, 2] as const) s[layout.rates + i] = gyroBiasRadPerSec[i];
	for (const i of [0, 1] as const) {
		x[ESTIMATE + i] = (estimatorTimeConstantSec ?? 0) * gyroBiasRadPerSec[i];
		s[layout.angles + i] = euler[i] + levelOffsetRad[i] + x[ESTIMATE + i]!;
		s[layout.angleSetPoint + i] = 0;
	}
	s[layout.throttle] = 0;
}

/** Still on the rig at its start angle, after the controller has settled in level hover; readings as the sensors see it there. */
export function holdOnRig(
	{ sensors }: Craft,
	rig: Rig | null,
	kernel: Kernel,
	layout: Layout,
	s: Float64Array,
	x: Float64Array,
	own: Float64Array,
): void {
	if (!rig) return;
	rig.hold(kernel, x, own);
	const euler = toEuler([x[6]!, x[7]!, x[8]!, x[9]!]);
	for (const i of [0, 1] as const) {
		s[layout.angles + i] = euler[i] + sensors.levelOffsetRad[i] + x[ESTIMATE + i]!;
		s[layout.angleSetPoint + i] = 0;
	}
	s[layout.angles + 2] = euler[2];
}

/** Height of the centre of mass of a level craft. */
const startHeight = (plant: Plant, feetM: number): number =>
	feetM + plant.feetBelowM - plant.centreOfMassM[2];

function fullCommand(plant: Plant, heightM: number): Trim {
	const n = plant.rotors.length;
	const volts = 0.9 * plant.openCircuitV;
	const state = new Float64Array(stateSize(n));
	state[2] = -startHeight(plant, heightM);
	state[6] = 1;
	let power = 0;
	plant.rotors.forEach((rotor, i) => {
		const w = (volts / plant.curve.referenceVoltageV) * curveSpeed(plant.curve, 1) * rotor.speedFactor;
		state[ROTORS + i] = w;
		for (let axis = 0; axis < 3; axis++)
			state[10 + axis]! -= rotor.spin * rotor.inertiaKgM2 * w * rotor.axis[axis]!;
		power += rotor.torqueCoefficient * w ** 3;
	});
	return {
		throttle: 1,
		u: [0, 0, 0],
		commands: new Float64Array(n).fill(1),
		speedsRadPerSec: state.slice(ROTORS),
		voltageV: volts,
		shaftPowerW: power,
		electricalPowerW: power / plant.efficiency + plant.avionicsPowerW,
		eulerRad: [0, 0, 0],
		climbMPerSec: 0,
		steady: false,
		state,
	};
}
