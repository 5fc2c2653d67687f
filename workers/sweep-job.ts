import { loadDocument, withValue } from "../src/scenario/load.ts";
import { migrate } from "../src/scenario/migrate.ts";
import {
	createSweepCells,
	type MarginCells,
	marginCellsOf,
	type ResolveCell,
	type Sweep,
	type SweepCell,
} from "../src/tuning/sweep.ts";
import type { SweepJob } from "./jobs.ts";
import type { JobContext } from "./protocol.ts";

/** Cells of one run, reported as they are finished. */
export async function runSweepJob(
	job: SweepJob,
	context: JobContext<readonly SweepCell[]>,
	cellsPerReport: number,
): Promise<null> {
	const cells = cellsOf(job);
	const end = job.first + job.count;
	for (let first = job.first; first < end; first += cellsPerReport) {
		await context.progress(cells(first, Math.min(cellsPerReport, end - first)));
		await context.pause();
	}
	return null;
}

type Cells = ReturnType<typeof createSweepCells>;

/** A worker is given one run of a sweep after another: what the last one has read is kept for the next. */
let last: { readonly key: string; readonly cells: Cells } | null = null;

function cellsOf({ first: _f, count: _c, ...whole }: SweepJob): Cells {
	const key = JSON.stringify(whole);
	if (last?.key !== key)
		last = { key, cells: createSweepCells(whole.sweep, resolver(whole), marginsOf(whole.sweep)) };
	return last.cells;
}

/** Tables of the last few axes and sets of points, for sweeps of the same craft over other gains. */
const tables = new Map<string, MarginCells | null>();
const TABLES_KEPT = 4;

function marginsOf(sweep: Sweep): MarginCells | null {
	const key = JSON.stringify(sweep.measure);
	const kept = tables.get(key) ?? marginCellsOf(sweep);
	tables.delete(key);
	tables.set(key, kept);
	if (tables.size > TABLES_KEPT) tables.delete(tables.keys().next().value!);
	return kept;
}

type Sections = Readonly<Record<string, unknown>>;
let file: { readonly text: string; readonly others: string; readonly document: Sections } | null = null;

/** The document of a text; all of it but the gain sets is the last one's by identity where it reads the same. */
function documentOf(text: string): Sections {
	if (file?.text === text) return file.document;
	const { gainSets, ...rest } = migrate(JSON.parse(text)) as Sections;
	const others = JSON.stringify(rest);
	const document = { ...(file?.others === others ? file.document : rest), gainSets };
	file = { text, others, document };
	return document;
}

/** Documents kept that differ in more than gains. */
const MOST_KEPT = 256;

/**
 * Cells that differ in gains alone share all of their document but the gain sets, by identity, and so whatever was made of it: the
 * scenario as read, the craft, its trim, its linear model.
 */
function resolver({
	text,
	setName,
	pointName,
	drillName,
	sweep,
	units,
}: Omit<SweepJob, "first" | "count">): ResolveCell {
	const whole = documentOf(text);
	const kept = new Map<string, unknown>();
	const isGain = sweep.axes.map(({ path }) => path.startsWith("gainSets"));
	const changed = (document: unknown, values: readonly number[], gains: boolean): unknown =>
		sweep.axes.reduce((before, { path }, i) => {
			if (isGain[i] !== gains) return before;
			return withValue(before, path, units[i] ? `${values[i]} ${units[i]}` : values[i]);
		}, document);
	return (values) => {
		const key = values.filter((_, i) => !isGain[i]).join();
		if (kept.size >= MOST_KEPT && !kept.has(key)) kept.clear();
		const document = kept.get(key) ?? changed(whole, values, false);
		kept.set(key, document);
		const loaded = loadDocument(changed(document, values, true));
		if (!loaded.ok) return { error: loaded.errors.map((each) => each.message).join("; ") };
		const { craft, gainSets, operatingPoints, drills } = loaded.scenario;
		const set = gainSets.find((each) => each.name === setName);
		const point = operatingPoints.find((each) => each.name === pointName)?.point;
		const drill = drills.find((each) => each.name === drillName);
		return set
			? { craft, set, ...(point && { point }), ...(drill && { drill }) }
			: { error: `no gain set '${setName}'` };
	};
}
