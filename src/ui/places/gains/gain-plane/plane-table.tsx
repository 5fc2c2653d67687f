import type { GainSet } from "../../../../control/spec.ts";
import type { GainUnit } from "../../../entry/gain-units.ts";
import { DataTable } from "../../../widgets/data-table.tsx";
import type { PlaneQuestion } from "./fill.ts";
import { GAIN_WORDS, isInside, shareOf, sideValues } from "./ranges.ts";
import { bestCell, type PlaneResult, readCell, wordsOf } from "./results.ts";
import type { Fill } from "./use-plane.ts";

const figure = (value: number): string => String(Number(value.toPrecision(4)));

const FINE = {
	stands: "stable as it stands",
	corners: "stable in every corner",
	flight: "flown to the end",
} as const;

/** The plane in numbers: where the set stands, and the best cell that was found. */
export function PlaneTable({
	fill,
	question,
	result,
	set,
	units,
}: {
	readonly fill: Fill;
	readonly question: PlaneQuestion;
	readonly result: PlaneResult;
	readonly set: GainSet;
	readonly units: readonly [GainUnit, GainUnit];
}) {
	const { x, y, axis } = question;
	const { cells, finest } = fill;
	const across = sideValues(x, finest);
	const up = sideValues(y, finest);
	const words = (value: number): string =>
		Number.isFinite(value) ? value.toFixed(result.digits) : result.kind === "margins" ? "unstable" : "none";
	const row = (what: string, gx: number, gy: number, value: string): string[] => [
		what,
		figure(gx * units[0].factor),
		figure(gy * units[1].factor),
		value,
	];
	const best = bestCell(cells, result);
	const [sx, sy] = [set[axis][x.gain], set[axis][y.gain]];
	const near = nearest(cells, finest, shareOf(x, sx), shareOf(y, sy));
	const stable = cells.reduce((n, numbers) => n + (numbers?.[0] === 1 ? 1 : 0), 0);
	return (
		<>
			<DataTable
				caption={`The plane in numbers: ${wordsOf(result, fill.shows)}`}
				columns={[
					{ title: "where" },
					{ title: GAIN_WORDS[x.gain], unit: units[0].unit, number: true },
					{ title: GAIN_WORDS[y.gain], unit: units[1].unit, number: true },
					{ title: "result", unit: result.unit, number: true },
				]}
				rows={[
					...(near === null || !isInside(x, sx) || !isInside(y, sy)
						? []
						: [
								row(
									`cell nearest to set ${set.name}`,
									across[near % finest]!,
									up[Math.floor(near / finest)]!,
									words(readCell(result)(cells[near]!).value),
								),
							]),
					...(best
						? [
								row(
									"best cell found",
									across[best.index % finest]!,
									up[Math.floor(best.index / finest)]!,
									words(best.value),
								),
							]
						: []),
				]}
			/>
			<p class="small quiet">
				{stable} of {fill.known} cells worked out are {FINE[fill.shows]}
				{fill.why && stable < fill.known ? ` (such as: ${fill.why})` : ""}.
			</p>
		</>
	);
}

/** The cell worked out that lies nearest; null where there is none. */
function nearest(cells: Fill["cells"], finest: number, shareX: number, shareY: number): number | null {
	let best: number | null = null;
	let least = Number.POSITIVE_INFINITY;
	for (let index = 0; index < cells.length; index++) {
		if (!cells[index]) continue;
		const dx = (index % finest) / (finest - 1) - shareX;
		const dy = Math.floor(index / finest) / (finest - 1) - shareY;
		const d = dx * dx + dy * dy;
		if (d < least) [least, best] = [d, index];
	}
	return best;
}
