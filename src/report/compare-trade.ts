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
	const off = meanChange(rows, set, base, (row) => row.what.endsWith(" IAE"));
	if (off !== null)
		weigh(
			off,
			0.02,
			`stays ${percent(off)} closer to the set-point`,
			`strays ${percent(off)} further from the set-point`,
		);
	const over = largestChange(rows, set, base, (row) => row.what.endsWith(" overshoot"));
	if (over !== null) {
		const where = over.drill === null ? "" : ` in '${over.drill}'`;
		weigh(
			over.change,
			0.5,
			`overshoots ${fixed(-over.change, 1)} points less${where}`,
			`overshoots ${fixed(over.change, 1)} points more${where}`,
		);
	}
	const work = meanChange(rows, set, base, (row) => row.what === "motor activity");
	if (work !== null)
		weigh(work, 0.05, `works the motors ${percent(work)} less`, `works the motors ${percent(work)} harder`);
	const phase = largestChange(rows, set, base, (row) => row.what === "least phase margin")?.change ?? 0;
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

interface Pair {
	readonly drill: string | null;
	readonly value: number;
	readonly base: number;
}

function pairs(rows: readonly CompareRow[], set: string, base: string, pick: Pick): Pair[] {
	return rows.filter(pick).flatMap((row) => {
		const value = row.cells.find((c) => c.set === set)?.value ?? null;
		const from = row.cells.find((c) => c.set === base)?.value ?? null;
		return value === null || from === null ? [] : [{ drill: row.drill, value, base: from }];
	});
}

/** Mean relative change over the rows, by logarithms; null where none compares. */
export function meanChange(
	rows: readonly CompareRow[],
	set: string,
	base: string,
	pick: Pick,
): number | null {
	const list = pairs(rows, set, base, pick).filter((pair) => pair.base > 0);
	if (list.length === 0) return null;
	const sum = list.reduce((total, pair) => total + Math.log(Math.max(pair.value, 1e-12) / pair.base), 0);
	return Math.exp(sum / list.length) - 1;
}

/** The largest change over the rows, by size, and the drill that it is from. */
export function largestChange(
	rows: readonly CompareRow[],
	set: string,
	base: string,
	pick: Pick,
): { readonly change: number; readonly drill: string | null } | null {
	return pairs(rows, set, base, pick)
		.map(({ drill, value, base: from }) => ({ drill, change: value - from }))
		.reduce<{ change: number; drill: string | null } | null>(
			(most, each) => (most && Math.abs(most.change) >= Math.abs(each.change) ? most : each),
			null,
		);
}
