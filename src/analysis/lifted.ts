import { type LinearTick, linearTick } from "../control/axis-linear.ts";
import { AXES, type FixedGainSet } from "../control/spec.ts";
import { createFlows, type Flows, type LiftedPlant } from "./lifted-flows.ts";
import { liftedProgram } from "./lifted-program.ts";
import { createLiftedRun, type LiftedRun, type RunAxis } from "./lifted-run.ts";
import { axisStates, type LinearCraft, OUTPUT } from "./linearise.ts";
import { loopRadius } from "./loop-blocks.ts";
import type { TimingChain } from "./timing-chain.ts";

/** How one axis's loop is changed: factors on u and on the angle error (0: angle path open), and added delays. */
export interface LoopChange {
	readonly u: number;
	readonly angle: number;
	/** After the speed controller's hold, continuous time. */
	readonly applyLaterSec: number;
	/** Attitude sampled that much earlier, arrivals unchanged. */
	readonly angleEarlierSec: number;
}

export const UNCHANGED: LoopChange = { u: 1, angle: 1, applyLaterSec: 0, angleEarlierSec: 0 };

/** A closed loop over one hyperperiod, with the same order of events as a flight. */
export interface LiftedLoop {
	readonly hyperperiodSec: number;
	/** Largest |eigenvalue| over one hyperperiod with these changes, one per axis of the loop. */
	radius(changes: readonly LoopChange[]): number;
	/** The map itself, size x size, row by row, for checks against a flight. */
	map(changes: readonly LoopChange[]): { readonly size: number; readonly map: Float64Array };
}

export type AxisIndex = 0 | 1 | 2;

/**
 * @param axes whose loops are closed
 * @param still axes whose tilt, velocity and estimator are left out; their angle paths are open
 * @param couplings true: the whole craft answers, as far as these axes move and read it; false: one axis's own states alone
 */
export function liftedLoop(
	linear: LinearCraft,
	chain: TimingChain,
	set: FixedGainSet,
	axes: readonly AxisIndex[],
	still: readonly AxisIndex[],
	couplings: boolean,
): LiftedLoop {
	const plant = selectPlant(linear, axes, still, couplings);
	let flows: Flows | null = null;
	const laws = axes.map((axis) => controlOf(set, axis, 1e-6 * chain.tickUs));
	const orders = laws.map((law) => law.controlOrder);
	// A gain runs the same program again; a delay makes a new one.
	const runs = new Map<string, LiftedRun>();
	const runFor = (changes: readonly LoopChange[]): LiftedRun => {
		const applyUs = axes.map((axis, k) => 1e6 * (linear.transportSec[axis] + changes[k]!.applyLaterSec));
		const angleEarlierUs = changes.map((change) => 1e6 * change.angleEarlierSec);
		const readsAngle = axes.map((axis, k) => axis < 2 && !still.includes(axis) && changes[k]!.angle !== 0);
		const make = (): LiftedRun => {
			flows ??= createFlows(plant);
			return createLiftedRun(
				plant,
				flows,
				orders,
				liftedProgram(chain, { applyUs, angleEarlierUs }, readsAngle),
			);
		};
		const isDelayed = changes.some((change) => change.applyLaterSec !== 0 || change.angleEarlierSec !== 0);
		if (!isDelayed)
			return recentRun(linear, chain, JSON.stringify([axes, still, couplings, orders, readsAngle]), make);
		const key = JSON.stringify([applyUs, angleEarlierUs, readsAngle]);
		let run = runs.get(key);
		if (!run) {
			if (runs.size >= 4) runs.delete(runs.keys().next().value!);
			run = make();
			runs.set(key, run);
		}
		return run;
	};
	const map = (changes: readonly LoopChange[]) => {
		const run = runFor(changes);
		return { size: run.size, map: run.map(laws, changes) };
	};
	const radii = new Map<string, number>();
	return {
		hyperperiodSec: 1e-6 * chain.hyperperiodUs,
		map,
		radius(changes) {
			const key = JSON.stringify(changes);
			let radius = radii.get(key);
			if (radius === undefined) {
				const made = map(changes);
				radius = loopRadius(made.map, made.size);
				radii.set(key, radius);
			}
			return radius;
		},
	};
}

/** Runs without added delays of the last few loops, newest last: other gains of the same craft run them again. */
const recent: { linear: LinearCraft; chain: TimingChain; key: string; run: LiftedRun }[] = [];
/** Three axes, each with its angle path open and closed, and all together, of two crafts; a run takes some megabytes. */
const MOST_RECENT = 14;

function recentRun(linear: LinearCraft, chain: TimingChain, key: string, make: () => LiftedRun): LiftedRun {
	const at = recent.findIndex((each) => each.linear === linear && each.chain === chain && each.key === key);
	const [found] = at < 0 ? [{ linear, chain, key, run: make() }] : recent.splice(at, 1);
	recent.push(found!);
	if (recent.length > MOST_RECENT) recent.shift();
	return found!.run;
}

function selectPlant(
	linear: LinearCraft,
	axes: readonly AxisIndex[],
	still: readonly AxisIndex[],
	couplings: boolean,
): LiftedPlant {
	if (!couplings && axes.length !== 1)
		throw new RangeError(`liftedLoop: ${axes.length} axes without couplings, expected one`);
	const states = couplings
		? takingPart(linear, statesWithout(linear, still), axes)
		: axisStates(linear, axes[0]!, !still.includes(axes[0]!));
	const n = states.length;
	const m = axes.length;
	const a = new Float64Array(n * n);
	const b = new Float64Array(n * m);
	states.forEach((from, i) => {
		states.forEach((to, j) => {
			a[i * n + j] = linear.a[from * linear.order + to]!;
		});
		axes.forEach((axis, k) => {
			b[i * m + k] = linear.bCommand[3 * from + axis]!;
		});
	});
	const row = (output: number): Float64Array =>
		Float64Array.from(states, (s) => linear.c[output * linear.order + s]!);
	return {
		order: n,
		inputs: m,
		a,
		b,
		rates: axes.map((axis) => row(OUTPUT.gyro + axis)),
		angles: axes.map((axis) => (axis < 2 ? row(OUTPUT.angle + axis) : new Float64Array(n))),
	};
}

/** All states but the drift of the axes held still. */
export function statesWithout(linear: LinearCraft, still: readonly AxisIndex[]): number[] {
	const left = new Set<number>();
	for (const axis of still) {
		const kept = axisStates(linear, axis, false);
		for (const s of axisStates(linear, axis, true)) if (!kept.includes(s)) left.add(s);
	}
	return linear.names.flatMap((_, i) => (left.has(i) ? [] : [i]));
}

/** Of these states the ones that the axes' u reach and that their readings see. */
function takingPart(linear: LinearCraft, states: readonly number[], axes: readonly AxisIndex[]): number[] {
	const spread = (from: readonly number[], joined: (a: number, b: number) => boolean): Set<number> => {
		const found = new Set(from);
		const queue = [...from];
		for (let at = queue.pop(); at !== undefined; at = queue.pop())
			for (const s of states)
				if (!found.has(s) && joined(at, s)) {
					found.add(s);
					queue.push(s);
				}
		return found;
	};
	const entry = (row: number, column: number): boolean => linear.a[row * linear.order + column] !== 0;
	const driven = states.filter((s) => axes.some((axis) => linear.bCommand[3 * s + axis] !== 0));
	const rows = axes.flatMap((axis) => [OUTPUT.gyro + axis, ...(axis < 2 ? [OUTPUT.angle + axis] : [])]);
	const read = states.filter((s) => rows.some((row) => linear.c[row * linear.order + s] !== 0));
	const reached = spread(driven, (at, s) => entry(s, at));
	const seen = spread(read, (at, s) => entry(at, s));
	return states.filter((s) => reached.has(s) && seen.has(s));
}

function controlOf(set: FixedGainSet, axis: AxisIndex, periodSec: number): RunAxis {
	const known = new Map<number, LinearTick>();
	const tick = (spacingUs: number): LinearTick => {
		let law = known.get(spacingUs);
		if (!law) {
			law = linearTick(set, AXES[axis]!, periodSec, 1e-6 * spacingUs);
			known.set(spacingUs, law);
		}
		return law;
	};
	return { controlOrder: tick(1e6 * periodSec).order, tick };
}
