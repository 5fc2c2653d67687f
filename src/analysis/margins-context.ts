import { AXES, type FixedGainSet, type GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { gainsAt } from "../physics/gains-at.ts";
import { type AxisLoops, axisLoops, type CraftAnswer, coupledLoops, loopMatrix } from "./axis-loops.ts";
import { type AxisPlants, axisPlantsOf } from "./axis-plants.ts";
import { axesTouch, craftAnswer } from "./craft-answer.ts";
import { type AxisIndex, type LiftedLoop, liftedLoop } from "./lifted.ts";
import type { LinearCraft } from "./linearise.ts";
import { type TimingChain, timingChain } from "./timing-chain.ts";

/** Largest relative change of L by couplings up to which they are left out: under 0.0001 dB. */
const NEGLIGIBLE = 1e-5;
/** And by another axis's loop in the lifted answer, whose map grows with every axis: under 0.01 dB. */
const NEGLIGIBLE_LIFTED = 1e-3;
/** Where |L| is below this nothing depends on it: 36 dB under. */
const LEAST_LOOP = 0.016;

/** What all answers about one gain set at one operating point share. */
export interface Context {
	readonly craft: Craft;
	/** As it stands at the pose and load of the linear craft. */
	readonly set: FixedGainSet;
	readonly linear: LinearCraft;
	readonly chain: TimingChain;
	readonly plants: AxisPlants;
	readonly answer: CraftAnswer;
	/** Axes act on each other at all. */
	readonly coupled: boolean;
	/** Per axis, the axes whose loops its lifted answer closes, itself first. */
	readonly company: readonly (readonly AxisIndex[])[];
	/** By opened loop; the same closed loop serves several openings. */
	lifted(axis: AxisIndex, rateOnly: boolean): LiftedLoop;
	loopsFor(set: FixedGainSet): readonly AxisLoops[];
}

/** What no gain changes. */
interface WithoutGains {
	readonly plants: AxisPlants;
	readonly answer: CraftAnswer;
	readonly touch: boolean;
}

const known = new WeakMap<LinearCraft, WeakMap<TimingChain, WithoutGains>>();

function withoutGains(linear: LinearCraft, chain: TimingChain): WithoutGains {
	const chains = known.get(linear) ?? new WeakMap<TimingChain, WithoutGains>();
	known.set(linear, chains);
	const found = chains.get(chain) ?? {
		plants: axisPlantsOf(linear, chain),
		answer: craftAnswer(linear, chain),
		touch: axesTouch(linear),
	};
	chains.set(chain, found);
	return found;
}

export function createContext(craft: Craft, gainSet: GainSet, linear: LinearCraft): Context {
	const set = gainsAt(craft, gainSet, linear.point);
	const chain = timingChain(craft.timing);
	const { plants, answer, touch } = withoutGains(linear, chain);
	const T = 1e-6 * chain.tickUs;
	const spacing = 1e-6 * Math.max(chain.tickUs, chain.gyro.periodUs);
	const alone = (s: FixedGainSet): AxisLoops[] => AXES.map((axis) => axisLoops(plants[axis], s));
	const together = (s: FixedGainSet): AxisLoops[] => coupledLoops(answer, s, T, spacing);
	const coupled = touch && largestCoupling(alone(set), together(set), T) >= NEGLIGIBLE;
	const company: readonly (readonly AxisIndex[])[] = coupled
		? companyOf(loopMatrix(answer, set, T, spacing), T)
		: [[0], [1], [2]];
	const cache = new Map<string, LiftedLoop>();
	return {
		craft,
		set,
		linear,
		chain,
		plants,
		answer,
		coupled,
		company,
		loopsFor: coupled ? together : alone,
		lifted(axis, rateOnly) {
			const key = `${axis} ${rateOnly}`;
			let loop = cache.get(key);
			if (!loop) {
				// An axis whose loop is not closed here would drift off with no one to hold it: its tilt is left out.
				const still = ([0, 1] as const).filter(
					(other) =>
						set.structure === "rateOnly" || (rateOnly && other === axis) || !company[axis]!.includes(other),
				);
				loop = liftedLoop(linear, chain, set, company[axis]!, still, coupled);
				cache.set(key, loop);
			}
			return loop;
		},
	};
}

/** Frequencies that margins depend on. */
function probes(periodSec: number): number[] {
	return Array.from({ length: 40 }, (_, i) => 0.5 * ((0.9 * Math.PI) / periodSec / 0.5) ** (i / 39));
}

/** Largest relative change of L that everything outside an axis's own states makes. */
function largestCoupling(
	alone: readonly AxisLoops[],
	together: readonly AxisLoops[],
	periodSec: number,
): number {
	const a = new Float64Array(2);
	const b = new Float64Array(2);
	let largest = 0;
	for (let axis = 0; axis < 3; axis++)
		for (const omega of probes(periodSec)) {
			alone[axis]!.all[axis < 2 ? "whole" : "rate"](omega, a);
			together[axis]!.all[axis < 2 ? "whole" : "rate"](omega, b);
			const size = Math.hypot(a[0]!, a[1]!);
			if (size >= LEAST_LOOP) largest = Math.max(largest, Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!) / size);
		}
	return largest;
}

/** For each axis the others whose closed loop changes its own by Q_ij Q_ji / (1 + Q_jj), relative to Q_ii, more than a trifle. */
function companyOf(matrix: (omega: number, out: Float64Array) => void, periodSec: number): AxisIndex[][] {
	const q = new Float64Array(18);
	const size = (i: number, j: number): number => Math.hypot(q[2 * (3 * i + j)]!, q[2 * (3 * i + j) + 1]!);
	const lists: AxisIndex[][] = [[0], [1], [2]];
	for (const omega of probes(periodSec)) {
		matrix(omega, q);
		for (const i of [0, 1, 2] as const)
			for (const j of [0, 1, 2] as const) {
				if (i === j || lists[i]!.includes(j) || size(i, i) < LEAST_LOOP) continue;
				const closed = Math.hypot(1 + q[8 * j]!, q[8 * j + 1]!);
				if ((size(i, j) * size(j, i)) / closed / size(i, i) > NEGLIGIBLE_LIFTED) lists[i]!.push(j);
			}
	}
	return lists;
}
