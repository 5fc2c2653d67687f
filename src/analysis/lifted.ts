import { type LinearTick, linearTick } from "../control/axis-linear.ts";
import { AXES, type GainSet } from "../control/spec.ts";
import { expm } from "../math/expm.ts";
import { type AxisRows, createRun, type Flow, type LiftedPlant, type Queue, type Run } from "./lifted-run.ts";
import { axisStates, type LinearCraft, OUTPUT } from "./linearise.ts";
import { loopRadius } from "./loop-blocks.ts";
import { STEP, type TimelineStep, timeline, underWay } from "./timeline.ts";
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
	set: GainSet,
	axes: readonly AxisIndex[],
	still: readonly AxisIndex[],
	couplings: boolean,
): LiftedLoop {
	const plant = selectPlant(linear, axes, still, couplings);
	const flows = flowCache(plant);
	const ticks = axes.map((axis) => tickCache(set, axis, 1e-6 * chain.tickUs));
	const map = (changes: readonly LoopChange[]) =>
		monodromy(plant, flows, ticks, chain, linear, axes, still, changes);
	return {
		hyperperiodSec: 1e-6 * chain.hyperperiodUs,
		map,
		radius(changes) {
			const made = map(changes);
			return loopRadius(made.map, made.size);
		},
	};
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

/** e^(A t) and its integral times B, once per distinct time. */
function flowCache(plant: LiftedPlant): (us: number) => Flow {
	const { order: n, inputs: m } = plant;
	const known = new Map<number, Flow>();
	return (us) => {
		const key = Math.round(us * 1e6);
		const found = known.get(key);
		if (found) return found;
		const size = n + m;
		const block = new Float64Array(size * size);
		const t = us * 1e-6;
		for (let i = 0; i < n; i++) {
			for (let j = 0; j < n; j++) block[i * size + j] = plant.a[i * n + j]! * t;
			for (let j = 0; j < m; j++) block[i * size + n + j] = plant.b[i * m + j]! * t;
		}
		const e = expm(block, size);
		const phi = new Float64Array(n * n);
		const gamma = new Float64Array(n * m);
		for (let i = 0; i < n; i++) {
			phi.set(e.subarray(i * size, i * size + n), i * n);
			gamma.set(e.subarray(i * size + n, (i + 1) * size), i * m);
		}
		if (known.size > 5000) known.clear();
		const flow = { phi, gamma };
		known.set(key, flow);
		return flow;
	};
}

type Ticks = (spacingUs: number) => LinearTick;

function tickCache(set: GainSet, axis: AxisIndex, periodSec: number): Ticks {
	const known = new Map<number, LinearTick>();
	return (spacingUs) => {
		let tick = known.get(spacingUs);
		if (!tick) {
			tick = linearTick(set, AXES[axis]!, periodSec, 1e-6 * spacingUs);
			known.set(spacingUs, tick);
		}
		return tick;
	};
}

function layOut(
	chain: TimingChain,
	order: number,
	controlOrders: readonly number[],
	applyUs: readonly number[],
	earlierUs: readonly number[],
): { rows: AxisRows[]; size: number } {
	let size = order;
	const take = (count: number): number => {
		size += count;
		return size - count;
	};
	const queue = (periodUs: number, firstUs: number, lastsUs: number): Queue => {
		const initial = underWay(periodUs, firstUs, lastsUs);
		return { first: take(initial), initial };
	};
	const { gyro, attitude, frame } = chain;
	const rows = controlOrders.map((controlOrder, k) => ({
		control: take(controlOrder),
		controlOrder,
		rate: take(1),
		angle: take(1),
		published: take(1),
		applied: take(1),
		rateQueue: queue(gyro.periodUs, gyro.phaseUs, chain.gyroBusUs),
		angleQueue: queue(
			attitude.periodUs,
			attitude.phaseUs - earlierUs[k]!,
			chain.attitudeLatencyUs + earlierUs[k]!,
		),
		computeQueue: queue(chain.tickUs, 0, chain.computeUs),
		pipe: queue(frame.periodUs, frame.phaseUs, applyUs[k]!),
	}));
	return { rows, size };
}

/** Carries the identity through one hyperperiod: every quantity as a row over the state at the start. */
function monodromy(
	plant: LiftedPlant,
	flows: (us: number) => Flow,
	ticks: readonly Ticks[],
	chain: TimingChain,
	linear: LinearCraft,
	axes: readonly AxisIndex[],
	still: readonly AxisIndex[],
	changes: readonly LoopChange[],
): { size: number; map: Float64Array } {
	const applyUs = axes.map((axis, k) => 1e6 * (linear.transportSec[axis] + changes[k]!.applyLaterSec));
	const angleEarlierUs = changes.map((change) => 1e6 * change.angleEarlierSec);
	const orders = ticks.map((tick) => tick(chain.tickUs).order);
	const { rows, size } = layOut(chain, plant.order, orders, applyUs, angleEarlierUs);
	const steps = timeline(chain, { applyUs, angleEarlierUs });
	const run = createRun(plant, rows, size);
	const angleOpen = axes.map((axis) => still.includes(axis));
	let now = 0;
	for (const step of steps) {
		if (step.atUs - now > 1e-6) {
			run.flow(flows(step.atUs - now));
			now = step.atUs;
		}
		happen(run, rows, ticks, step, angleOpen, changes);
	}
	if (chain.hyperperiodUs - now > 1e-6) run.flow(flows(chain.hyperperiodUs - now));
	return { size, map: run.finish() };
}

function happen(
	run: Run,
	rows: readonly AxisRows[],
	ticks: readonly Ticks[],
	step: TimelineStep,
	angleOpen: readonly boolean[],
	changes: readonly LoopChange[],
): void {
	for (let k = 0; k < rows.length; k++) {
		if (step.axis >= 0 && step.axis !== k) continue;
		const row = rows[k]!;
		if (step.kind === STEP.sampleRate) run.sample(k, "rate");
		else if (step.kind === STEP.sampleAngle) run.sample(k, "angle");
		else if (step.kind === STEP.rateArrives) run.arrive(k, "rateQueue", row.rate);
		else if (step.kind === STEP.angleArrives) run.arrive(k, "angleQueue", row.angle);
		else if (step.kind === STEP.tick)
			run.tick(k, ticks[k]!(step.spacingUs), changes[k]!.u, angleOpen[k] ? 0 : changes[k]!.angle);
		else if (step.kind === STEP.publish) run.arrive(k, "computeQueue", row.published);
		else if (step.kind === STEP.latch) run.push(k, "pipe", row.published);
		else run.arrive(k, "pipe", row.applied);
	}
}
