import { YAW_ALONE } from "../analysis/held-axis.ts";
import { AXES, type AxisName, type FixedGainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { alternatives } from "./alternatives.ts";
import { type AxisReport, axisReport, closestLimits, missOf } from "./axis-report.ts";
import { type Limits, limitsOf, searchLimits } from "./characters.ts";
import {
	axisProblemOf,
	type CraftModel,
	craftModel,
	holdRollAndPitch,
	type ProblemOptions,
} from "./craft-problem.ts";
import { completeSet, GAIN_SET_RULES } from "./gain-set.ts";
import { Judge } from "./judge.ts";
import type { Gains4 } from "./loop-test.ts";
import { type AxisSearchProblem, withLimits } from "./problem.ts";
import type { AxisTuning, TunedGains, TuneOptions, TuneResult } from "./result.ts";
import { type Found, searchAxis } from "./search.ts";
import { tightened, verifyAxis } from "./verify.ts";

const VERIFY_ROUNDS = 4;

interface Tuned {
	readonly problem: AxisSearchProblem;
	readonly found: Found;
	readonly counters: Judge["counters"];
	readonly note: string;
}

/** Starting gains of a craft: docs/tuning.md. Deterministic. */
export function tune(craft: Craft, options: TuneOptions): TuneResult {
	const limits = limitsOf(options.character, options.limits);
	const model = craftModel(craft, options.corners);
	const base = { filters: options.filters ?? [], yawDerivative: options.yawDerivative ?? false };
	const problems = new Map<AxisName, AxisSearchProblem>();
	const models: { -readonly [A in AxisName]: CraftModel } = { roll: model, pitch: model, yaw: model };
	const search = (axis: AxisName, kept: Limits): Tuned => {
		const known = problems.get(axis);
		const problem = known
			? withLimits(known, kept)
			: axisProblemOf(models[axis], axis, { ...base, limits: kept });
		problems.set(axis, problem);
		const judge = new Judge(problem);
		return { problem, found: searchAxis(judge), counters: judge.counters, note: "" };
	};
	const kept = searchLimits(limits);
	const tilt = (["roll", "pitch"] as const).map((axis) => search(axis, kept));
	// Where one of them has none, by those that come nearest: they hold it well enough to judge yaw by.
	models.yaw = holdRollAndPitch(model, setOf(model, options, [...tilt, tilt[0]!]));
	const first = [...tilt, search("yaw", kept)];
	const tuned = first.every((t) => t.found.feasible)
		? stepBack(models, options, { ...base, limits }, kept, first, search)
		: first;
	const axes = Object.fromEntries(tuned.map((t) => [t.problem.axis, describe(t, limits)])) as {
		-readonly [A in AxisName]: AxisTuning;
	};
	const yawTouched = models.yaw.corners.some((corner) => corner.yawTouched);
	const without = tilt.filter((t) => !t.found.feasible).map((t) => t.problem.axis);
	if (yawTouched && without.length > 0) axes.yaw = besideMissing(axes.yaw, without);
	const feasible = AXES.every((axis) => axes[axis].feasible);
	const result: TuneResult = {
		character: options.character,
		limits,
		feasible,
		gains: { roll: axes.roll.gains, pitch: axes.pitch.gains, yaw: axes.yaw.gains },
		gainSet: feasible ? setOf(model, options, tuned) : null,
		axes,
		binding: AXES.flatMap((axis) => axes[axis].binding),
		objective: { roll: axes.roll.objective, pitch: axes.pitch.objective, yaw: axes.yaw.objective },
		corners: model.corners.map(({ name, point }) => ({ name, point })),
		unflyable: model.unflyable,
		alternatives: [],
		rules: GAIN_SET_RULES,
	};
	return options.alternatives === false
		? result
		: { ...result, alternatives: alternatives(craft, options, result, yawTouched) };
}

function setOf(model: CraftModel, options: TuneOptions, tuned: readonly Tuned[]): FixedGainSet {
	return completeSet(
		model,
		options.name ?? "A",
		options.filters ?? [],
		tuned.map((t) => ({ problem: t.problem, gains: t.found.gains })),
	);
}

/** Searches again with tighter limits wherever a closer look finds one missed. */
function stepBack(
	models: { readonly [A in AxisName]: CraftModel },
	options: TuneOptions,
	base: ProblemOptions,
	start: Limits,
	first: readonly Tuned[],
	search: (axis: AxisName, limits: Limits) => Tuned,
): readonly Tuned[] {
	const kept: Record<AxisName, Limits> = { roll: start, pitch: start, yaw: start };
	const done = new Set<AxisName>();
	let tuned = first;
	for (let round = 0; round < VERIFY_ROUNDS && done.size < 3; round++) {
		const set = setOf(models.roll, options, tuned);
		tuned = tuned.map((t) => {
			const { axis } = t.problem;
			if (done.has(axis)) return t;
			const corners = cornersToVerify(t);
			const missed = verifyAxis(models[axis], set, axis, t.found.gains, base, corners);
			if (missed.length === 0) {
				done.add(axis);
				return t;
			}
			kept[axis] = tightened(kept[axis], missed);
			const again = search(axis, kept[axis]);
			if (!again.found.feasible) return t;
			return { ...again, note: `stepped back: ${missed[0]!.sentence}` };
		});
	}
	return tuned;
}

/** Those of the limits closest to binding. */
function cornersToVerify({ problem, found }: Tuned): ReadonlySet<string> {
	const closest = closestLimits(problem, found.gains);
	return new Set(closest.filter((s, i) => i === 0 || s.missed > -0.03).map((s) => s.corner));
}

function describe({ problem, found, counters, note }: Tuned, limits: Limits): AxisTuning {
	const report = axisReport({ ...problem, limits }, found.gains);
	const { axis } = problem;
	const shared = { axis, problem: problem.numbers, counters, periodicNote: note };
	if (found.feasible)
		return {
			...shared,
			feasible: true,
			gains: asGains(axis, found.gains),
			objective: found.value,
			binding: report.binding,
			worst: report.worst,
			integralRatio: found.gains[2] / found.gains[1],
			crossoverRange: report.crossoverRange,
			why: "",
		};
	return {
		...shared,
		feasible: false,
		gains: null,
		objective: null,
		binding: report.binding,
		worst: null,
		integralRatio: null,
		crossoverRange: null,
		why: `${axis}: ${whyNone(found, nearestGains(axis, found.gains), report.closest)}`,
	};
}

/** `value`: what the search's own limits, a little inside those asked for, are missed by. */
function whyNone({ value }: Found, nearest: string, closest: AxisReport["closest"]): string {
	const far = closest[0]!.missed;
	if (far <= 0 && !Number.isFinite(value))
		return `the gains that come nearest (${nearest}) keep every limit only with an integral too weak to take the error after a step away`;
	const limits = closest
		.filter((s) => s.missed > -0.01)
		.slice(0, 4)
		.map((s) => `${missOf(s)} (${s.corner})`);
	return `no gains keep every limit in every corner; those that come nearest (${nearest}) miss by ${Number((100 * (far > 0 ? far : value)).toPrecision(2))} %: ${limits.join("; ")}`;
}

/** Yaw far off balance, where loops that are to hold the craft meanwhile have no gains that keep every limit. */
function besideMissing(yaw: AxisTuning, without: readonly AxisName[]): AxisTuning {
	const because = `holding roll and pitch changes its answer by more than ${100 * YAW_ALONE} %, and ${without.join(" and ")} ${without.length === 1 ? "has" : "have"} no gains that keep every limit`;
	return yaw.feasible
		? { ...yaw, periodicNote: `yaw: judged beside the gains that come nearest, since ${because}` }
		: { ...yaw, why: `yaw: not judged, since ${because}` };
}

const nearestGains = (axis: AxisName, gains: Gains4): string =>
	["k_angle", "kp", "ki", "kd"]
		.map((name, i) => `${name} ${Number(gains[i]!.toPrecision(3))}`)
		.slice(axis === "yaw" ? 1 : 0)
		.join(", ");

function asGains(axis: AxisName, [kAngle, kp, ki, kd]: Gains4): TunedGains {
	return { kAngle: axis === "yaw" ? null : kAngle, kp, ki, kd };
}
