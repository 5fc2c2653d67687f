import { gainPlane } from "../pictures/gain-plane.ts";
import { axis, INK } from "../pictures/looks.ts";
import { pictureSvg } from "../pictures/svg.ts";
import type { SweepJson } from "../report/json/sweep.ts";
import { columnTitle } from "../report/sweep-words.ts";

/** A curve over one number, a shaded plane over two. */
export function sweepPicture(result: SweepJson, invented: boolean): string {
	const [first, second] = result.over;
	const column = result.columns.indexOf(result.result);
	// An unstable cell has no distance: it stays blank, so that the shaded cells are the stable ones.
	const radius = result.result === "stabilityRadius";
	const at = new Map(
		result.cells.map((cell) => {
			const number = cell.numbers[column] ?? Number.NaN;
			return [cell.index, radius && number <= 0 ? Number.NaN : number];
		}),
	);
	const total = result.over.reduce((n, each) => n * each.values.length, 1);
	const numbers = Array.from({ length: total }, (_, i) => at.get(i) ?? Number.NaN);
	const head = {
		title: `${capital(columnTitle(result.result))}, ${result.axis}, over ${result.over.map((each) => each.path).join(" and ")}`,
		note: `levelhead ${result.madeBy.version}, ${result.madeBy.scenario?.file ?? ""}, gain set ${result.madeBy.gainSet ?? ""}${radius ? "; blank: unstable" : ""}`,
		invented,
	};
	if (second) {
		// The plane runs row by row with y rising; the first --over turns slowest.
		const side = (over: typeof second) => {
			const { values } = over;
			return { label: over.path, unit: over.unit, scale: "linear" as const, values };
		};
		return pictureSvg(
			gainPlane({
				...head,
				x: side(second),
				y: side(first!),
				values: numbers,
				label: columnTitle(result.result),
				unit: "",
				outline: null,
				sets: [],
			}),
		);
	}
	return pictureSvg({
		...head,
		description: `${columnTitle(result.result)} of the ${result.axis} axis over ${first!.path}.`,
		legend: [],
		panels: [
			{
				x: axis(first!.path, first!.unit),
				y: axis(columnTitle(result.result), ""),
				equalScales: false,
				weight: 1,
				series: [{ name: columnTitle(result.result), x: first!.values, y: numbers, look: INK }],
				marks: [],
				field: null,
			},
		],
	});
}

const capital = (text: string): string => text[0]!.toUpperCase() + text.slice(1);
