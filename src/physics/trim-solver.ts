import type { Mixer } from "../control/mixer.ts";
import type { OperatingPoint } from "../craft/model.ts";
import { curveSpeed } from "../craft/speed-curve.ts";
import { solve } from "../math/matrix.ts";
import * as quaternion from "../math/quaternion.ts";
import type { Vec3 } from "../math/types.ts";
import type { HeldLimb } from "./held-limb.ts";
import { derivative } from "./kernel.ts";
import { createKernel, type Kernel, OUTSIDE_SIZE, ROTORS, stateSize } from "./kernel-layout.ts";
import type { Plant } from "./plant.ts";

/** Steady flight: what every flight and every linear model starts from. */
export interface Trim {
	/** Throttle demand and u (roll, pitch, yaw) that make the commands through the mixer. */
	readonly throttle: number;
	readonly u: Vec3;
	/** One per rotor; above 1 only at 'full' throttle, where the clip is ignored and the curve's end slope goes on. */
	readonly commands: Float64Array;
	readonly speedsRadPerSec: Float64Array;
	readonly voltageV: number;
	readonly shaftPowerW: number;
	/** Drawn from the battery, electronics included. */
	readonly electricalPowerW: number;
	/** Roll, pitch, yaw (0). */
	readonly eulerRad: Vec3;
	readonly climbMPerSec: number;
	/** False when no steady climb exists at a given throttle: the point is then taken at zero climb, accelerating. */
	readonly steady: boolean;
	/** The kernel's state, reference point over the world's origin. */
	readonly state: Float64Array;
}

export type TrimResult =
	| { readonly feasible: true; readonly trim: Trim }
	| { readonly feasible: false; readonly reason: string };

export interface TrimSetup {
	readonly plant: Plant;
	readonly mixer: Mixer;
	readonly lowestSpin: number;
	/** For reasons, in the order of the rotors. */
	readonly rotorPlaces: readonly string[];
	readonly throttle: OperatingPoint["throttle"];
	/** Feet above ground. */
	readonly heightM: number;
	/** The kernel's air array. */
	readonly air: Float64Array;
	/** What the air does to limb and hanging load; default nothing. */
	readonly held?: HeldLimb | null;
}

const UNKNOWNS = 7;

/**
 * Newton's method on the equations of motion themselves. Unknowns: throttle demand (hover) or climb (given throttle), u of
 * the three axes, roll, pitch, battery voltage; yaw is 0. Conditions: no acceleration, no torque, voltage equal to the
 * battery's under the rotors' load. The craft keeps its place over ground in the wind.
 */
export function solveTrim(setup: TrimSetup): TrimResult {
	const problem = createProblem(setup);
	const lack = cannotLift(problem);
	if (problem.hover && lack) return { feasible: false, reason: lack };
	for (const steady of problem.hover ? [true] : [true, false]) {
		for (const start of [1, 0.8, 1.2]) {
			const y = startingPoint(problem, start);
			if (!newton(problem, y, steady)) continue;
			if (Math.abs(y[4]!) > 1.4 || Math.abs(y[5]!) > 1.4) continue;
			if (!problem.hover && steady && Math.abs(y[0]!) > 60) continue;
			const trim = describe(problem, y, steady);
			const reason = outOfReach(setup, trim, problem);
			return reason ? { feasible: false, reason } : { feasible: true, trim };
		}
	}
	return {
		feasible: false,
		reason:
			lack ??
			liftsAlready(problem, setup.lowestSpin) ??
			"no steady attitude balances the craft at this wind and load",
	};
}

interface Problem {
	readonly plant: Plant;
	readonly mixer: Mixer;
	readonly kernel: Kernel;
	readonly air: Float64Array;
	readonly held: HeldLimb | null;
	readonly hover: boolean;
	/** Where it is given. */
	readonly throttle: number;
	readonly clipIgnored: boolean;
	readonly heightM: number;
	/** Of the outermost rotor about the centre of mass. */
	readonly armM: number;
	readonly x: Float64Array;
	readonly dx: Float64Array;
	readonly u: Float64Array;
	readonly outside: Float64Array;
	readonly commands: Float64Array;
}

function createProblem(setup: TrimSetup): Problem {
	const { plant, mixer, throttle, heightM, air, held = null } = setup;
	const n = plant.rotors.length;
	return {
		plant,
		mixer,
		kernel: createKernel(plant),
		air,
		held,
		hover: throttle === "hover",
		throttle: typeof throttle === "number" ? throttle : 1,
		clipIgnored: throttle === "full",
		heightM,
		armM: Math.max(
			...plant.rotors.map((r) =>
				Math.hypot(r.positionM[0] - plant.centreOfMassM[0], r.positionM[1] - plant.centreOfMassM[1]),
			),
		),
		x: new Float64Array(stateSize(n)),
		dx: new Float64Array(stateSize(n)),
		u: new Float64Array(n),
		outside: new Float64Array(OUTSIDE_SIZE),
		commands: new Float64Array(n),
	};
}

/** The inverse of the mixer's `demandFor`, without its limits: Newton on its own slope. */
function commandFor(mixer: Mixer, demand: number, voltageV: number): number {
	let c = demand;
	for (let i = 0; i < 30; i++) {
		const miss = demand - mixer.demandFor(c, voltageV);
		if (Math.abs(miss) < 1e-15) break;
		c += miss * mixer.slope(c, voltageV);
	}
	return c;
}

/** Fills x and the commands from the unknowns. */
function apply(problem: Problem, y: Float64Array): void {
	const { plant, mixer, x, commands, hover } = problem;
	const volts = y[6]! * plant.openCircuitV;
	const throttle = hover ? y[0]! : problem.throttle;
	x.fill(0);
	const q = quaternion.fromEuler([y[4]!, y[5]!, 0]);
	for (let i = 0; i < 4; i++) x[6 + i] = q[i]!;
	placeReference(plant, x, problem.heightM);
	x[5] = hover ? 0 : -y[0]!;
	plant.rotors.forEach((rotor, i) => {
		const demand =
			throttle +
			mixer.table[3 * i]! * y[1]! +
			mixer.table[3 * i + 1]! * y[2]! +
			mixer.table[3 * i + 2]! * y[3]!;
		const c = commandFor(mixer, demand, volts);
		commands[i] = c;
		const w = (volts / plant.curve.referenceVoltageV) * curveSpeed(plant.curve, c) * rotor.speedFactor;
		x[ROTORS + i] = w;
		const spin = -rotor.spin * rotor.inertiaKgM2 * w;
		for (let axis = 0; axis < 3; axis++) x[10 + axis] = x[10 + axis]! + spin * rotor.axis[axis]!;
	});
}

/** Puts the centre of mass where the reference point is over the origin with the feet at a height. */
function placeReference(plant: Plant, x: Float64Array, heightM: number): void {
	const r = quaternion.toMatrix([x[6]!, x[7]!, x[8]!, x[9]!]);
	const c = plant.centreOfMassM;
	x[0] = r[0] * c[0] + r[1] * c[1] + r[2] * c[2];
	x[1] = r[3] * c[0] + r[4] * c[1] + r[5] * c[2];
	x[2] = r[6] * c[0] + r[7] * c[1] + r[8] * (c[2] - plant.feetBelowM) - heightM;
}

/** Accelerations over g, torques over weight times a rotor's arm, voltage over the open-circuit one. */
function residual(problem: Problem, y: Float64Array, steady: boolean, out: Float64Array): void {
	const { plant, kernel, x, dx } = problem;
	apply(problem, y);
	problem.held?.act(kernel, x, problem.air, problem.outside);
	derivative(kernel, x, problem.u, problem.air, problem.outside, dx);
	const weight = plant.massKg * plant.gravityMPerSec2;
	const arm = problem.armM;
	for (let i = 0; i < 3; i++) {
		out[i] = dx[3 + i]! / plant.gravityMPerSec2;
		out[3 + i] = dx[10 + i]! / (weight * arm);
	}
	// Without a steady climb the vertical condition gives way to zero climb.
	if (!steady) out[2] = y[0]!;
	out[6] = y[6]! - loadedVoltage(problem) / plant.openCircuitV;
}

function shaftPower({ plant, x }: Problem): number {
	return plant.rotors.reduce((sum, rotor, i) => sum + rotor.torqueCoefficient * x[ROTORS + i]! ** 3, 0);
}

function loadedVoltage(problem: Problem): number {
	const { plant } = problem;
	const power = shaftPower(problem) / plant.efficiency + plant.avionicsPowerW;
	const v0 = plant.openCircuitV;
	return (v0 + Math.sqrt(Math.max(0, v0 * v0 - 4 * plant.resistanceOhm * power))) / 2;
}

function startingPoint(problem: Problem, factor: number): Float64Array {
	const y = new Float64Array(UNKNOWNS);
	const { plant, mixer } = problem;
	y[6] = 0.95;
	if (!problem.hover) return y;
	const volts = 0.95 * plant.openCircuitV;
	let low = 0;
	let high = 1;
	for (let i = 0; i < 40; i++) {
		const middle = (low + high) / 2;
		const lift = liftAt(plant, middle, volts);
		if (lift < plant.massKg * plant.gravityMPerSec2) low = middle;
		else high = middle;
	}
	y[0] = mixer.demandFor(high * factor, volts);
	return y;
}

/** Total thrust straight up with every motor at one command, no motion, N. */
function liftAt(plant: Plant, command: number, volts: number): number {
	return plant.rotors.reduce((sum, rotor) => {
		const w = (volts / plant.curve.referenceVoltageV) * curveSpeed(plant.curve, command) * rotor.speedFactor;
		return sum - rotor.thrustCoefficient * w * w * rotor.axis[2];
	}, 0);
}

/** Why full command cannot carry the craft, or null. */
function cannotLift(problem: Problem): string | null {
	const { plant } = problem;
	const volts = voltsAt(problem, 1);
	const lift = liftAt(plant, 1, volts);
	const weight = plant.massKg * plant.gravityMPerSec2;
	if (lift > weight) return null;
	return `full throttle lifts ${newtons(lift)} at ${volts.toFixed(2)} V, the craft weighs ${newtons(weight)}`;
}

/** Why the least command that turns the motors carries the craft off, or null. */
function liftsAlready(problem: Problem, lowestSpin: number): string | null {
	const { plant, hover } = problem;
	const least = Math.max(lowestSpin, plant.curve.commands[0]!);
	const lift = liftAt(plant, least, voltsAt(problem, least));
	const weight = plant.massKg * plant.gravityMPerSec2;
	if (!hover || lift < weight) return null;
	const when = least > lowestSpin ? "where the motors start" : "at lowest spin";
	return `it lifts ${newtons(lift)} already ${when}, ${Number((100 * least).toPrecision(3))} % command, the craft weighs ${newtons(weight)}`;
}

const newtons = (force: number): string =>
	`${force >= 0.01 ? force.toFixed(2) : Number(force.toPrecision(3))} N`;

/** Of the battery with every motor at one command. */
function voltsAt(problem: Problem, command: number): number {
	const { plant, mixer } = problem;
	const y = new Float64Array(UNKNOWNS);
	let volts = plant.openCircuitV;
	for (let i = 0; i < 60; i++) {
		y[6] = volts / plant.openCircuitV;
		y[0] = mixer.demandFor(command, volts);
		apply({ ...problem, hover: true }, y);
		volts = (volts + loadedVoltage(problem)) / 2;
	}
	return volts;
}

function newton(problem: Problem, y: Float64Array, steady: boolean): boolean {
	const f = new Float64Array(UNKNOWNS);
	const shifted = new Float64Array(UNKNOWNS);
	const jacobian = new Float64Array(UNKNOWNS * UNKNOWNS);
	const size = (): number => f.reduce((sum, v) => sum + v * v, 0);
	residual(problem, y, steady, f);
	let now = size();
	for (let pass = 0; pass < 60 && now > 1e-26; pass++) {
		const base = Float64Array.from(f);
		for (let j = 0; j < UNKNOWNS; j++) {
			const dy = 1e-6 * Math.max(1, Math.abs(y[j]!));
			const kept = y[j]!;
			y[j] = kept + dy;
			residual(problem, y, steady, f);
			shifted.set(f);
			y[j] = kept - dy;
			residual(problem, y, steady, f);
			y[j] = kept;
			for (let i = 0; i < UNKNOWNS; i++) jacobian[i * UNKNOWNS + j] = (shifted[i]! - f[i]!) / (2 * dy);
		}
		let move: Float64Array;
		try {
			move = solve(jacobian, base, UNKNOWNS, 1);
		} catch {
			return false;
		}
		let share = 1;
		const from = Float64Array.from(y);
		for (;;) {
			for (let i = 0; i < UNKNOWNS; i++) y[i] = from[i]! - share * move[i]!;
			residual(problem, y, steady, f);
			const next = size();
			if (next < now || (next < 1e-22 && now < 1e-22)) {
				if (!(next < now)) return true;
				now = next;
				break;
			}
			share /= 2;
			if (share < 1e-6) return now < 1e-20;
		}
	}
	return now < 1e-20;
}

function describe(problem: Problem, y: Float64Array, steady: boolean): Trim {
	residual(problem, y, steady, new Float64Array(UNKNOWNS));
	const { plant, x } = problem;
	const shaft = shaftPower(problem);
	return {
		throttle: problem.hover ? y[0]! : problem.throttle,
		u: [y[1]!, y[2]!, y[3]!],
		commands: Float64Array.from(problem.commands),
		speedsRadPerSec: x.slice(ROTORS),
		voltageV: loadedVoltage(problem),
		shaftPowerW: shaft,
		electricalPowerW: shaft / plant.efficiency + plant.avionicsPowerW,
		eulerRad: [y[4]!, y[5]!, 0],
		climbMPerSec: problem.hover || !steady ? 0 : y[0]!,
		steady,
		state: Float64Array.from(x),
	};
}

/** Why a balanced point cannot be flown, or null. */
function outOfReach(setup: TrimSetup, trim: Trim, problem: Problem): string | null {
	const { plant } = problem;
	const power = trim.electricalPowerW;
	if (plant.openCircuitV ** 2 < 4 * plant.resistanceOhm * power)
		return `brown-out: ${power.toFixed(0)} W is more than the battery can give`;
	if (trim.voltageV < plant.brownOutV)
		return `brown-out: ${trim.voltageV.toFixed(2)} V under load, the electronics need ${plant.brownOutV.toFixed(2)} V`;
	if (problem.clipIgnored) return null;
	for (let i = 0; i < trim.commands.length; i++) {
		const percent = (100 * trim.commands[i]!).toFixed(1);
		const place = setup.rotorPlaces[i];
		if (trim.commands[i]! > 1) return `the ${place} motor would need ${percent} % command`;
		if (trim.commands[i]! < setup.lowestSpin)
			return `the ${place} motor would need ${percent} % command, below lowest spin`;
	}
	return null;
}
