import { axisLoops } from "../src/analysis/axis-loops.ts";
import { axisPlants } from "../src/analysis/axis-plants.ts";
import { corners } from "../src/analysis/corners.ts";
import { craftReport } from "../src/analysis/craft-report.ts";
import { firstMinute } from "../src/analysis/first-minute.ts";
import { axisMarginsQuick, marginsBrief, marginsReport } from "../src/analysis/margins-report.ts";
import { wrongBuilds } from "../src/analysis/wrong-builds.ts";
import { fly } from "../src/flight/engine.ts";
import { type CornerStep, cornerStep, nominalStep } from "../src/report/corner-steps.ts";
import { flightJson } from "../src/report/fly-json.ts";
import { sampleLoop } from "../src/report/loop-pictures.ts";
import { loadDocument } from "../src/scenario/load.ts";
import type { Scenario } from "../src/scenario/model.ts";
import { tune } from "../src/tuning/tune.ts";
import type { About, PageJobs } from "./page-jobs.ts";
import type { Handlers } from "./protocol.ts";
import { runSweepJob } from "./sweep-job.ts";

/** Newest last. Equal text gives the same objects, so that what the engine keeps by identity is found again. */
const known = new Map<string, Scenario>();
const KEPT = 6;

type Sections = Readonly<Record<string, unknown>>;
let last: Sections = {};

/** Sections that read as the last document's are the last one's, so that what was made of them is found again while one thing is dragged. */
function documentOf(text: string): Sections {
	const document = JSON.parse(text) as Sections;
	const same = (key: string): boolean => JSON.stringify(document[key]) === JSON.stringify(last[key]);
	last = Object.fromEntries(Object.keys(document).map((key) => [key, (same(key) ? last : document)[key]]));
	return last;
}

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
		const { craft } = scenario;
		const point = pointOf(scenario, job);
		return axisMarginsQuick(craft, named(scenario.gainSets, job.set, "gain set"), point, job.axis);
	},
	loop(job) {
		const scenario = scenarioOf(job);
		const plant = axisPlants(scenario.craft, pointOf(scenario, job))[job.axis];
		const respond = axisLoops(plant, named(scenario.gainSets, job.set, "gain set"))[job.opened];
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
		});
	},
	flight(job) {
		const scenario = scenarioOf(job);
		const { craft } = scenario;
		const point = pointOf(scenario, job);
		const set = named(scenario.gainSets, job.set, "gain set");
		const whole = named(scenario.drills, job.drill, "drill");
		const { quickSec } = job;
		const drill = quickSec ? { ...whole, durationSec: Math.min(quickSec, whole.durationSec) } : whole;
		const options = quickSec ? { noise: false, rounding: false } : {};
		const flight = fly({ craft, point, gainSet: set, drill, options });
		return { flight, json: flightJson(flight, craft, point, drill, set) };
	},
	sweep: (job, context) => runSweepJob(job, context, job.sweep.measure.kind === "flown" ? 1 : 4),
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
