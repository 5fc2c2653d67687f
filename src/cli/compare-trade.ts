import type { CompareRow } from "./compare-rows.ts";
import { fixed } from "./format.ts";

/**
 * What a set trades against the base, in a sentence: how closely it follows (IAE summed as ratios over drills), how far it
 * overshoots, how hard the motors work, what margin is left.
 */
export function tradeSentence(
	rows: readonly CompareRow[],
	set: string,
	base: string,
	fails: readonly string[],
): string {
	if (fails.length > 0) return `${set} fails: ${fails[0]}.`;
	if (set === base) return `${set} is the base that the others are compared with.`;
	if (rows.some((row) => row.cells.find((c) => c.set === base)?.fails))
		return `${set} passes where the base ${base} fails.`;
	const gains: string[] = [];
	const costs: string[] = [];
	const weigh = (change: number, threshold: number, less: string, more: string): void => {
		if (Math.abs(change) < threshold) return;
		(change < 0 ? gains : costs).push(change < 0 ? less : more);
	};
	const off = ratio(rows, set, base, (row) => row.what.endsWith(" IAE"));
	if (off !== null)
		weigh(
			off,
			0.02,
			`stays ${percent(off)} closer to the set-point`,
			`strays ${percent(off)} further from the set-point`,
		);
	const over = difference(rows, set, base, (row) => row.what.endsWith(" overshoot"));
	if (over !== null)
		weigh(over, 0.5, `overshoots ${fixed(-over, 1)} points less`, `overshoots ${fixed(over, 1)} points more`);
	const work = ratio(rows, set, base, (row) => row.what === "motor activity");
	if (work !== null)
		weigh(work, 0.05, `works the motors ${percent(work)} less`, `works the motors ${percent(work)} harder`);
	const phase = difference(rows, set, base, (row) => row.what === "least phase margin");
	if (phase !== null)
		weigh(
			-phase,
			0.5,
			`keeps ${fixed(phase, 1)} deg more phase margin`,
			`keeps ${fixed(-phase, 1)} deg less phase margin`,
		);
	const parts = [gains.join(", "), costs.join(", ")].filter((part) => part !== "");
	if (parts.length === 0) return `${set} flies like ${base}: no difference worth a word.`;
	return `Against ${base}, ${set} ${parts.join("; but ")}.`;
}

const percent = (change: number): string => `${fixed(100 * Math.abs(change), 0)} %`;

type Pick = (row: CompareRow) => boolean;

function pairs(rows: readonly CompareRow[], set: string, base: string, pick: Pick): [number, number][] {
	return rows.filter(pick).flatMap((row) => {
		const a = row.cells.find((c) => c.set === set)?.value ?? null;
		const b = row.cells.find((c) => c.set === base)?.value ?? null;
		return a === null || b === null ? [] : [[a, b] as [number, number]];
	});
}

/** Mean relative change over the rows; null where none compares. */
function ratio(rows: readonly CompareRow[], set: string, base: string, pick: Pick): number | null {
	const list = pairs(rows, set, base, pick).filter(([, b]) => b > 0);
	if (list.length === 0) return null;
	return Math.exp(list.reduce((sum, [a, b]) => sum + Math.log(Math.max(a, 1e-12) / b), 0) / list.length) - 1;
}

/** Largest change over the rows, by size. */
function difference(rows: readonly CompareRow[], set: string, base: string, pick: Pick): number | null {
	const list = pairs(rows, set, base, pick).map(([a, b]) => a - b);
	if (list.length === 0) return null;
	return list.reduce((most, d) => (Math.abs(d) > Math.abs(most) ? d : most), 0);
}
