import { axisLoops } from "../src/analysis/axis-loops.ts";
import { axisOnTheLine, feltOnAxis } from "../src/analysis/axis-margins.ts";
import { axisPlants } from "../src/analysis/axis-plants.ts";
import { corners } from "../src/analysis/corners.ts";
import { craftReport } from "../src/analysis/craft-report.ts";
import { firstMinute } from "../src/analysis/first-minute.ts";
import { marginsBrief, marginsReport } from "../src/analysis/margins-report.ts";
import { wrongBuilds } from "../src/analysis/wrong-builds.ts";
import { fly } from "../src/flight/engine.ts";
import { gainsAt } from "../src/physics/gains-at.ts";
import { STEP_COLUMNS } from "../src/pictures/flight-pictures.ts";
import { type CornerStep, cornerStep, nominalStep } from "../src/report/corner-steps.ts";
import { flightJson } from "../src/report/fly-json.ts";
import { sampleLoop } from "../src/report/loop-pictures.ts";
import { reachNumbers } from "../src/report/reach-json.ts";
import { scheduleJson } from "../src/report/schedule-json.ts";
import { loadDocument } from "../src/scenario/load.ts";
import type { Scenario } from "../src/scenario/model.ts";
import { limitsOf } from "../src/tuning/characters.ts";
import { envelopeCorners } from "../src/tuning/reach-corners.ts";
import {
	mostLoad,
	REACH_POSES,
	type ReachLine,
	reachLines,
	reachReport,
} from "../src/tuning/reach-report.ts";
import { tuneSchedule } from "../src/tuning/schedule.ts";
import type { Sweep } from "../src/tuning/sweep.ts";
import { tune } from "../src/tuning/tune.ts";
import { createDocuments } from "./kept-documents.ts";
import type { About, PageJobs } from "./page-jobs.ts";
import type { Handlers } from "./protocol.ts";
import { runSweepJob } from "./sweep-job.ts";

/** Newest last. Equal text gives the same objects, so that what the engine keeps by identity is found again. */
const known = new Map<string, Scenario>();
const KEPT = 6;
const documentOf = createDocuments();

function scenarioOf({ text }: Pick<About, "text">): Scenario {
	const kept = known.get(text);
	if (kept) return kept;
	const loaded = loadDocument(documentOf(text));
	if (!loaded.ok) throw new RangeError(loaded.errors.map((each) => each.message).join("; "));
	known.set(text, loaded.scenario);
	if (known.size > KEPT) known.delete(known.keys().next().value!);
	return loaded.scenario;
}

function named<T extends { readonly name: string }>(list: readonly T[], name: string, what: string): T {
	const found = list.find((each) => each.name === name);
	if (!found)
		throw new RangeError(`no ${what} '${name}', expected one of ${list.map((each) => each.name).join(", ")}`);
	return found;
}

const pointOf = (scenario: Scenario, { point }: About) =>
	named(scenario.operatingPoints, point, "operating point").point;

function flown(job: PageJobs["flight"]["job"], columns?: readonly string[]) {
	const scenario = scenarioOf(job);
	const { craft } = scenario;
	const point = pointOf(scenario, job);
	const set = named(scenario.gainSets, job.set, "gain set");
	const whole = named(scenario.drills, job.drill, "drill");
	const { quickSec } = job;
	const drill = quickSec ? { ...whole, durationSec: Math.min(quickSec, whole.durationSec) } : whole;
	const options = { ...(quickSec ? { noise: false, rounding: false } : {}), ...(columns ? { columns } : {}) };
	return { flight: fly({ craft, point, gainSet: set, drill, options }), craft, point, drill, set };
}

/** Some tens of milliseconds of work: a cancel waits no longer, and few words are spent on the way. */
const cellsPerReport = ({ measure }: Sweep): number =>
	measure.kind === "flown" ? 1 : Math.max(4, Math.round(1024 / Math.max(1, measure.points.length)));

/** The same things in an order whose every beginning reaches over the whole list. */
function spread<T>(list: readonly T[]): T[] {
	const taken = new Set<T>();
	for (let step = 2 ** Math.ceil(Math.log2(Math.max(1, list.length))); step >= 1; step /= 2)
		for (let i = 0; i < list.length; i += step) taken.add(list[i]!);
	return [...taken];
}

export const PAGE_HANDLERS: Handlers<PageJobs> = {
	report(job) {
		const scenario = scenarioOf(job);
		const point = pointOf(scenario, job);
		const found =
			job.set === null
				? null
				: marginsBrief(scenario.craft, named(scenario.gainSets, job.set, "gain set"), point);
		const brief = found?.feasible ? found.brief : null;
		return { report: craftReport(scenario.craft, point, brief), brief };
	},
	margins(job) {
		const scenario = scenarioOf(job);
		return marginsReport(
			scenario.craft,
			named(scenario.gainSets, job.set, "gain set"),
			pointOf(scenario, job),
		);
	},
	axis(job) {
		const scenario = scenarioOf(job);
		const set = named(scenario.gainSets, job.set, "gain set");
		const judgement = job.moving ? "meanAges" : "lifted";
		return axisOnTheLine(scenario.craft, set, pointOf(scenario, job), job.axis, judgement);
	},
	felt(job) {
		const scenario = scenarioOf(job);
		const set = named(scenario.gainSets, job.set, "gain set");
		return feltOnAxis(scenario.craft, set, pointOf(scenario, job), job.axis);
	},
	loop(job) {
		const scenario = scenarioOf(job);
		const { craft } = scenario;
		const point = pointOf(scenario, job);
		const plant = axisPlants(craft, point)[job.axis];
		const set = gainsAt(craft, named(scenario.gainSets, job.set, "gain set"), point);
		const respond = axisLoops(plant, set)[job.opened];
		return respond ? sampleLoop(respond, [0.3, Math.PI / plant.periodSec]) : null;
	},
	wrongBuilds(job) {
		const scenario = scenarioOf(job);
		return wrongBuilds(scenario.craft, pointOf(scenario, job), named(scenario.gainSets, job.set, "gain set"));
	},
	firstMinute(job) {
		const scenario = scenarioOf(job);
		return firstMinute(scenario.craft, pointOf(scenario, job), named(scenario.gainSets, job.set, "gain set"));
	},
	tune(job) {
		const { craft, tuning } = scenarioOf(job);
		const changed = tuning[job.character];
		return tune(craft, {
			character: job.character,
			alternatives: job.alternatives,
			...(changed ? { limits: changed } : {}),
			...(job.reach && craft.limb ? { corners: envelopeCorners(craft) } : {}),
		});
	},
	flight(job) {
		const { flight, craft, point, drill, set } = flown(job);
		return { flight, json: flightJson(flight, craft, point, drill, set) };
	},
	step(job) {
		if (job.quickSec) return { flight: flown(job, STEP_COLUMNS).flight, json: null };
		const { flight, craft, point, drill, set } = flown(job);
		return { flight, json: flightJson(flight, craft, point, drill, set) };
	},
	async reach(job, context) {
		const scenario = scenarioOf(job);
		const { craft, tuning } = scenario;
		const set = named(scenario.gainSets, job.set, "gain set");
		const limits = limitsOf(job.character, tuning[job.character]);
		const mostKg = mostLoad(craft);
		const lines: ReachLine[] = [];
		const soFar = () => reachNumbers(reachReport(craft, lines, mostKg), job.character);
		for (const line of reachLines(craft, set, limits, pointOf(scenario, job), {
			poses: REACH_POSES,
			mostKg,
		})) {
			lines.push(line);
			await context.progress(soFar());
			await context.pause();
		}
		return soFar();
	},
	async schedule(job, context) {
		const { craft, tuning, firmware } = scenarioOf(job);
		const changed = tuning[job.character];
		const work = tuneSchedule(craft, { character: job.character, ...(changed ? { limits: changed } : {}) });
		let step = work.next();
		while (!step.done) {
			await context.progress(step.value);
			await context.pause();
			step = work.next();
		}
		return { gainSet: step.value.gainSet, json: scheduleJson(step.value, firmware, craft) };
	},
	sweep: (job, context) => runSweepJob(job, context, cellsPerReport(job.sweep)),
	async corners(job, context) {
		const scenario = scenarioOf(job);
		const { craft } = scenario;
		const set = named(scenario.gainSets, job.set, "gain set");
		const nominal = nominalStep(craft, set, job.axis);
		const all = spread(corners(craft, pointOf(scenario, job)));
		const flown: CornerStep[] = [];
		for (const corner of all) {
			flown.push(cornerStep(craft, set, job.axis, corner));
			await context.pause();
			if (flown.length % 8 === 0) await context.progress({ nominal, flown, total: all.length });
		}
		return { nominal, flown, total: all.length };
	},
};
