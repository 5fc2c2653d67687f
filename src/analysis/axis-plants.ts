import { AXES, type AxisName } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { discretise } from "../linear/discretise.ts";
import { createResponder } from "../linear/frequency-response.ts";
import { CONTINUOUS, type StateSpace, stateSpace } from "../linear/state-space.ts";
import type { AgePattern } from "./age-pattern.ts";
import type { AxisPlant, SampledAxis } from "./axis-plant.ts";
import { axisStates, type LinearCraft, linearise, OUTPUT } from "./linearise.ts";
import { type TimingChain, timingChain } from "./timing-chain.ts";

export type AxisPlants = Readonly<Record<AxisName, AxisPlant>>;

/**
 * The three axes at one operating point, couplings between them left out.
 * @throws RangeError when the craft has no trim there; ask `linearise` first for the reason as a result
 */
export function axisPlants(craft: Craft, point: OperatingPoint): AxisPlants {
	const found = linearise(craft, point);
	if (!found.feasible) throw new RangeError(`axisPlants: no trim at this operating point: ${found.reason}`);
	return axisPlantsOf(found.linear, timingChain(craft.timing));
}

export function axisPlantsOf(linear: LinearCraft, chain: TimingChain): AxisPlants {
	const [roll, pitch, yaw] = ([0, 1, 2] as const).map((index) => once(() => axisPlant(linear, chain, index)));
	return {
		get roll() {
			return roll!();
		},
		get pitch() {
			return pitch!();
		},
		get yaw() {
			return yaw!();
		},
	};
}

function axisPlant(linear: LinearCraft, chain: TimingChain, index: 0 | 1 | 2): AxisPlant {
	const T = 1e-6 * chain.tickUs;
	const transport = linear.transportSec[index];
	const { gyroAge, attitudeAge, holdAge } = chain;
	const usesAngle = index < 2;
	const equal = holdAge.constant && gyroAge.constant && (!usesAngle || attitudeAge.constant);
	const full = axisSystem(linear, index, true);
	const rate = axisSystem(linear, index, false);
	const delays = (pick: (age: AgePattern) => number) => ({
		inputSec: [pick(holdAge) + transport, 0],
		outputSec: [pick(gyroAge), pick(attitudeAge), 0, 0],
	});
	const mean = delays((age) => Math.max(0, age.meanSec));
	const exact = delays((age) => (age.constant ? age.meanSec : 0));
	const withExact = { full: discretise(full, T, exact), rate: discretise(rate, T, exact) };
	// Most callers ask for answers only; the models at mean ages are made when first read.
	const sampledFull = once(() => asSampledAxis(equal ? withExact.full : discretise(full, T, mean)));
	const sampledRate = once(() => asSampledAxis(equal ? withExact.rate : discretise(rate, T, mean)));
	const respondFull = createResponder(commandToReadings(withExact.full));
	const respondRate = createResponder(commandToReadings(withExact.rate));
	const raw = new Float64Array(4);
	const rawRate = new Float64Array(4);
	const correction = new Float64Array(2);
	const turn = (age: AgePattern, omega: number, at: Float64Array, i: number): void => {
		if (age.constant) return;
		age.respond(omega, correction);
		const re = at[i]! * correction[0]! - at[i + 1]! * correction[1]!;
		at[i + 1] = at[i]! * correction[1]! + at[i + 1]! * correction[0]!;
		at[i] = re;
	};
	return {
		axis: AXES[index]!,
		periodSec: T,
		slowestClockSec:
			1e-6 *
			Math.max(
				chain.tickUs,
				chain.gyro.periodUs,
				chain.frame.periodUs,
				usesAngle ? chain.attitude.periodUs : 0,
			),
		slowestRateClockSec: 1e-6 * Math.max(chain.tickUs, chain.gyro.periodUs, chain.frame.periodUs),
		rateSpacingSec: 1e-6 * Math.max(chain.tickUs, chain.gyro.periodUs),
		equalClocks: equal,
		get sampled() {
			return sampledFull();
		},
		get sampledRate() {
			return sampledRate();
		},
		respond(omega, out) {
			respondFull(omega, raw);
			turn(holdAge, omega, raw, 0);
			turn(holdAge, omega, raw, 2);
			turn(gyroAge, omega, raw, 0);
			turn(attitudeAge, omega, raw, 2);
			out[0] = raw[0]!;
			out[1] = raw[1]!;
			out[2] = raw[2]!;
			out[3] = raw[3]!;
			if (out.length < 6) return;
			respondRate(omega, rawRate);
			turn(holdAge, omega, rawRate, 0);
			turn(gyroAge, omega, rawRate, 0);
			out[4] = rawRate[0]!;
			out[5] = rawRate[1]!;
		},
	};
}

function once<T>(make: () => T): () => T {
	let made: T | undefined;
	return () => {
		made ??= make();
		return made;
	};
}

/** Inputs u and outside torque about the axis; outputs gyro, angle, true rate, true angle (0 for yaw and without drift). */
export function axisSystem(
	linear: LinearCraft,
	index: 0 | 1 | 2,
	drift: boolean,
): StateSpace<{ readonly kind: "continuous" }> {
	const states = axisStates(linear, index, drift);
	const n = states.length;
	const a = new Float64Array(n * n);
	const b = new Float64Array(2 * n);
	const c = new Float64Array(4 * n);
	const rows = [OUTPUT.gyro + index, OUTPUT.angle + index, OUTPUT.rate + index, OUTPUT.trueAngle + index];
	states.forEach((from, i) => {
		states.forEach((to, j) => {
			a[i * n + j] = linear.a[from * linear.order + to]!;
		});
		b[2 * i] = linear.bCommand[3 * from + index]!;
		b[2 * i + 1] = linear.bTorque[3 * from + index]!;
		rows.forEach((row, o) => {
			const angle = o % 2 === 1;
			if (angle && index === 2) return;
			c[o * n + i] = linear.c[row * linear.order + from]!;
		});
	});
	return stateSpace(CONTINUOUS, { a, b, c }, { order: n, inputs: 2, outputs: 4 });
}

/** From u to the two readings. */
function commandToReadings(system: StateSpace): StateSpace {
	const n = system.order;
	return stateSpace(
		system.timeBase,
		{
			a: system.a,
			b: system.b.filter((_, i) => i % 2 === 0),
			c: system.c.slice(0, 2 * n),
			d: new Float64Array(2),
		},
		{ order: n, inputs: 1, outputs: 2 },
	);
}

function asSampledAxis(system: StateSpace): SampledAxis {
	const { order: n, a, b, c } = system;
	const row = (o: number): Float64Array => c.slice(o * n, (o + 1) * n);
	return {
		order: n,
		a,
		bCommand: b.filter((_, i) => i % 2 === 0),
		bTorque: b.filter((_, i) => i % 2 === 1),
		cRate: row(0),
		cAngle: row(1),
		cTrueRate: row(2),
		cTrueAngle: row(3),
	};
}
