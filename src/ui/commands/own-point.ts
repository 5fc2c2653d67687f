import { loadDocument } from "../../scenario/load.ts";
import type { NamedPoint } from "../../scenario/model.ts";
import type { PageState, ScenarioDocument } from "../state/model.ts";

type PointDocument = Readonly<Record<string, unknown>> & { readonly name: string };

const MOST_POINTS = 50;
const OWN = /, mine( \d+)?$/;

/** Changed on the page: it stands beside the point that it began as. */
export const isOwnPoint = (name: string): boolean => OWN.test(name);

/** What is written in the document; a scenario without a list has plain points that stand nowhere: those are written out. */
export function pointsOf(document: ScenarioDocument): readonly PointDocument[] {
	const written = (document["operatingPoints"] ?? []) as readonly PointDocument[];
	if (written.length > 0) return written;
	const loaded = loadDocument(document);
	if (!loaded.ok) throw new RangeError(`mend the scenario first: ${loaded.errors[0]?.message}`);
	return loaded.scenario.operatingPoints.map(plainDocument);
}

const plainDocument = ({ name, point: { battery, load } }: NamedPoint): PointDocument => ({
	name,
	...(battery === "nominal" ? {} : { battery }),
	...(load === "none" ? {} : { load }),
});

function freeName(points: readonly PointDocument[], from: string): string {
	const taken = new Set(points.map((each) => each.name));
	const wanted = `${from}, mine`;
	if (!taken.has(wanted)) return wanted;
	for (let k = 2; ; k++) if (!taken.has(`${wanted} ${k}`)) return `${wanted} ${k}`;
}

/**
 * The state with one operating point changed, and chosen. A point of the file stays what its name says: the first change makes a copy beside it, and later ones change
 * that copy. `undefined` takes a key out.
 */
export function changePoint(state: PageState, name: string, change: Record<string, unknown>): PageState {
	const points = pointsOf(state.document);
	const from = points.find((each) => each.name === name);
	if (!from) throw new RangeError(`no operating point '${name}'`);
	const own = isOwnPoint(name) ? name : freeName(points, name);
	if (own !== name && points.length >= MOST_POINTS)
		throw new RangeError(
			`${points.length} operating points, expected below ${MOST_POINTS}: take one out first`,
		);
	const changed = Object.fromEntries(
		Object.entries({ ...from, ...change, name: own }).filter(([, value]) => value !== undefined),
	);
	const operatingPoints =
		own === name ? points.map((each) => (each === from ? changed : each)) : [...points, changed];
	return {
		document: { ...state.document, operatingPoints },
		view: { ...state.view, point: own },
	};
}
