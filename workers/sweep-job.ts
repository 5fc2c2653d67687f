import type { Craft } from "../src/craft/model.ts";
import { loadDocument, withValue } from "../src/scenario/load.ts";
import { type ResolveCell, type SweepCell, sweepCells } from "../src/tuning/sweep.ts";
import type { SweepJob } from "./jobs.ts";
import type { JobContext } from "./protocol.ts";

/** Cells of one run, reported as they are finished. */
export async function runSweepJob(
	job: SweepJob,
	context: JobContext<readonly SweepCell[]>,
	cellsPerReport: number,
): Promise<null> {
	const resolve = resolver(job);
	const end = job.first + job.count;
	for (let first = job.first; first < end; first += cellsPerReport) {
		const count = Math.min(cellsPerReport, end - first);
		await context.progress(sweepCells(job.sweep, resolve, first, count));
		await context.pause();
	}
	return null;
}

function resolver(job: SweepJob): ResolveCell {
	const document: unknown = JSON.parse(job.text);
	/** Cells that differ in gains alone share one craft object, so that its linear model is made once. */
	const ofCraft = job.sweep.axes.map(({ path }) => !path.startsWith("gainSets"));
	let shared: { readonly key: string; readonly craft: Craft } | null = null;
	return (values) => {
		let changed = document;
		job.sweep.axes.forEach((axis, i) => {
			const unit = job.units[i] ?? "";
			const value = values[i]!;
			changed = withValue(changed, axis.path, unit ? `${value} ${unit}` : value);
		});
		const loaded = loadDocument(changed);
		if (!loaded.ok) return { error: loaded.errors.map((each) => each.message).join("; ") };
		const set = loaded.scenario.gainSets.find((each) => each.name === job.setName);
		if (!set) return { error: `no gain set '${job.setName}'` };
		const key = values.filter((_, i) => ofCraft[i]).join();
		if (shared?.key !== key) shared = { key, craft: loaded.scenario.craft };
		return { craft: shared.craft, set };
	};
}
