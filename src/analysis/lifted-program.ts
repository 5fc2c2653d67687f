import { STEP, type TimelineDelays, type TimelineStep, timeline, underWay } from "./timeline.ts";
import type { TimingChain } from "./timing-chain.ts";

/** A command in effect from one time before a flow's end to another, microseconds. */
interface ProgramSpan {
	readonly axis: number;
	readonly register: number;
	readonly fromUs: number;
	readonly toUs: number;
}

/** What happens to the state, in order. Registers hold readings and commands, each one number. */
export type ProgramStep =
	| { readonly kind: "flow"; readonly lengthUs: number; readonly spans: readonly ProgramSpan[] }
	| {
			readonly kind: "sample";
			readonly axis: number;
			readonly what: "rate" | "angle";
			readonly register: number;
	  }
	| {
			readonly kind: "tick";
			readonly axis: number;
			readonly spacingUs: number;
			readonly rate: number;
			/** -1: the angle path is open. */
			readonly angle: number;
			/** -1: no frame ever latches this tick's command. */
			readonly command: number;
	  };

/** One hyperperiod without what no one reads: samples no tick uses, commands no frame latches, steps that only carry a value on. */
export interface Program {
	readonly steps: readonly ProgramStep[];
	readonly registers: number;
	/** Values made before the hyperperiod and used in it: which register holds each at the start, and its successor's at the end. */
	readonly carried: readonly { readonly start: number; readonly end: number }[];
}

/** A timeline step with numbered values instead of queues. */
type Raw =
	| {
			readonly kind: "sample";
			readonly atUs: number;
			readonly axis: number;
			readonly what: "rate" | "angle";
			readonly id: number;
	  }
	| {
			readonly kind: "tick";
			readonly axis: number;
			readonly spacingUs: number;
			readonly rate: number;
			readonly angle: number;
			readonly id: number;
	  };

interface Walked {
	readonly raw: readonly Raw[];
	/** Per axis: from when on which value is the command in effect; the first from 0. */
	readonly commands: readonly (readonly { readonly atUs: number; readonly id: number }[])[];
	readonly values: number;
	/** Values 0, 1 .. stand in the places of the state at the start; here is what stands there at the end. */
	readonly after: readonly number[];
}

/** Less than this is one instant, microseconds. */
const INSTANT = 1e-6;

/** @param readsAngle per axis, whether its angle path is closed */
export function liftedProgram(
	chain: TimingChain,
	delays: TimelineDelays,
	readsAngle: readonly boolean[],
): Program {
	const walked = walk(chain, delays, readsAngle);
	return allot(arrange(walked, chain.hyperperiodUs, liveValues(walked, chain.hyperperiodUs)), walked);
}

/** Goes once through the timeline with a number for every value instead of the value. */
function walk(chain: TimingChain, delays: TimelineDelays, readsAngle: readonly boolean[]): Walked {
	const { gyro, attitude, frame } = chain;
	let values = 0;
	const take = (): number => values++;
	const queue = (periodUs: number, firstUs: number, lastsUs: number): number[] =>
		Array.from({ length: underWay(periodUs, firstUs, lastsUs) }, take);
	const axes = readsAngle.map((_, k) => {
		const earlier = delays.angleEarlierUs[k]!;
		return {
			rate: [take()],
			angle: [take()],
			published: [take()],
			applied: [take()],
			rates: queue(gyro.periodUs, gyro.phaseUs, chain.gyroBusUs),
			angles: queue(attitude.periodUs, attitude.phaseUs - earlier, chain.attitudeLatencyUs + earlier),
			computed: queue(chain.tickUs, 0, chain.computeUs),
			pipe: queue(frame.periodUs, frame.phaseUs, delays.applyUs[k]!),
		};
	});
	const places = (): number[] => axes.flatMap((axis) => Object.values(axis).flat());
	const shape = (): string => JSON.stringify(axes.map((axis) => Object.values(axis).map((q) => q.length)));
	const before = places();
	const shapeBefore = shape();
	const raw: Raw[] = [];
	const commands = axes.map((axis) => [{ atUs: 0, id: axis.applied[0]! }]);
	const happen = (step: TimelineStep, k: number): void => {
		const axis = axes[k]!;
		const { atUs } = step;
		if (step.kind === STEP.sampleRate || step.kind === STEP.sampleAngle) {
			const what = step.kind === STEP.sampleRate ? "rate" : "angle";
			const id = take();
			raw.push({ kind: "sample", atUs, axis: k, what, id });
			axis[what === "rate" ? "rates" : "angles"].push(id);
		} else if (step.kind === STEP.rateArrives) axis.rate[0] = axis.rates.shift()!;
		else if (step.kind === STEP.angleArrives) axis.angle[0] = axis.angles.shift()!;
		else if (step.kind === STEP.tick) {
			const id = take();
			const angle = readsAngle[k] ? axis.angle[0]! : -1;
			raw.push({ kind: "tick", axis: k, spacingUs: step.spacingUs, rate: axis.rate[0]!, angle, id });
			axis.computed.push(id);
		} else if (step.kind === STEP.publish) axis.published[0] = axis.computed.shift()!;
		else if (step.kind === STEP.latch) axis.pipe.push(axis.published[0]!);
		else {
			const id = axis.pipe.shift()!;
			if (axis.applied[0] !== id) commands[k]!.push({ atUs, id });
			axis.applied[0] = id;
		}
	};
	for (const step of timeline(chain, delays))
		for (let k = 0; k < axes.length; k++) if (step.axis < 0 || step.axis === k) happen(step, k);
	const end = places();
	if (shape() !== shapeBefore || end.includes(undefined as never))
		throw new Error(`liftedProgram: values per place ${shape()} at the end, expected ${shapeBefore}`);
	const after = new Array<number>(before.length);
	before.forEach((id, i) => {
		after[id] = end[i]!;
	});
	return { raw, commands, values, after };
}

/** 1 for every value that a tick reads or the plant feels, in this hyperperiod or in a later one. */
function liveValues({ raw, commands, values, after }: Walked, spanUs: number): Uint8Array {
	const live = new Uint8Array(values);
	for (const step of raw)
		if (step.kind === "tick") {
			live[step.rate] = 1;
			if (step.angle >= 0) live[step.angle] = 1;
		}
	for (const list of commands)
		list.forEach(({ atUs, id }, i) => {
			if ((list[i + 1]?.atUs ?? spanUs) - atUs > INSTANT) live[id] = 1;
		});
	for (let again = true; again; ) {
		again = false;
		after.forEach((id, place) => {
			if (live[place] && !live[id]) {
				live[id] = 1;
				again = true;
			}
		});
	}
	return live;
}

/** Steps with value numbers where registers will stand; the plant flows only to where it is read. */
function arrange({ raw, commands }: Walked, spanUs: number, live: Uint8Array) {
	const steps: ProgramStep[] = [];
	const at = commands.map(() => 0);
	let now = 0;
	const flowTo = (end: number): void => {
		if (end - now <= INSTANT) return;
		const spans: ProgramSpan[] = [];
		commands.forEach((list, axis) => {
			for (;;) {
				const from = Math.max(now, list[at[axis]!]!.atUs);
				const next = list[at[axis]! + 1]?.atUs ?? Number.POSITIVE_INFINITY;
				const register = list[at[axis]!]!.id;
				const to = Math.min(end, next);
				if (live[register] && to > from) spans.push({ axis, register, fromUs: end - from, toUs: end - to });
				if (next > end) break;
				at[axis]!++;
			}
		});
		steps.push({ kind: "flow", lengthUs: end - now, spans });
		now = end;
	};
	for (const step of raw) {
		if (step.kind === "tick") {
			const { axis, spacingUs, rate, angle, id } = step;
			steps.push({ kind: "tick", axis, spacingUs, rate, angle, command: live[id] ? id : -1 });
		} else if (live[step.id]) {
			flowTo(step.atUs);
			steps.push({ kind: "sample", axis: step.axis, what: step.what, register: step.id });
		}
	}
	flowTo(spanUs);
	return { steps, live };
}

/** Gives every live value a register, and gives it free after its last use. */
function allot(
	{ steps, live }: { steps: readonly ProgramStep[]; live: Uint8Array },
	{ values, after }: Walked,
): Program {
	const lastUse = new Int32Array(values).fill(-1);
	const uses = (step: ProgramStep): number[] =>
		step.kind === "flow"
			? step.spans.map((s) => s.register)
			: step.kind === "tick"
				? [step.rate, ...(step.angle >= 0 ? [step.angle] : [])]
				: [];
	steps.forEach((step, i) => {
		for (const id of uses(step)) lastUse[id] = i;
	});
	const kept = after.flatMap((id, place) => (live[place] ? [{ place, id }] : []));
	for (const { id } of kept) lastUse[id] = steps.length;
	const register = new Int32Array(values).fill(-1);
	const free: number[] = [];
	let registers = 0;
	const give = (id: number): number => {
		register[id] = free.pop() ?? registers++;
		return register[id];
	};
	// Registers 0, 1 .. in this order.
	for (const { place } of kept) give(place);
	const allotted = steps.map((step, i): ProgramStep => {
		const read = uses(step);
		let made: ProgramStep;
		if (step.kind === "flow")
			made = { ...step, spans: step.spans.map((s) => ({ ...s, register: register[s.register]! })) };
		else if (step.kind === "sample") made = { ...step, register: give(step.register) };
		else
			made = {
				...step,
				rate: register[step.rate]!,
				angle: step.angle < 0 ? -1 : register[step.angle]!,
				command: step.command < 0 ? -1 : give(step.command),
			};
		for (const id of new Set(read)) if (lastUse[id] === i) free.push(register[id]!);
		return made;
	});
	const carried = kept.map(({ id }, start) => ({ start, end: register[id]! }));
	return { steps: allotted, registers, carried };
}
