import type { CraftReport } from "../analysis/craft-report-types.ts";
import type { CompareRow } from "./compare-rows.ts";
import { largestChange, meanChange } from "./compare-trade.ts";
import { fixed } from "./format.ts";

/** One gain set at one operating point, without load and with it. */
export interface LoadTrade {
	/** Of the gain set. */
	readonly set: string;
	/** Such as '300 g'. */
	readonly load: string;
	/** `compareRows` over the two, named so. */
	readonly rows: readonly CompareRow[];
	readonly without: LoadCase;
	readonly loaded: LoadCase;
}

interface LoadCase {
	/** As the rows name it. */
	readonly name: string;
	readonly report: CraftReport;
	/** What is wrong with it, sentences. */
	readonly fails: readonly string[];
}

/** Numbers of hovering, as rows beside those of `compareRows`; the lighter one is the base. */
export function hoverRows({ without, loaded }: Pick<LoadTrade, "without" | "loaded">): CompareRow[] {
	const row = (
		what: string,
		unit: string,
		better: "less" | "more",
		of: (hover: NonNullable<CraftReport["hover"]>) => number,
	): CompareRow => {
		const values = [without, loaded].map(({ report }) => (report.hover ? of(report.hover) : null));
		const [base] = values;
		return {
			drill: null,
			what,
			unit,
			better,
			cells: [without, loaded].map(({ name, report }, i) => {
				const value = values[i]!;
				const difference = value === null || base === null || base === undefined ? null : value - base;
				return {
					set: name,
					value,
					difference,
					best: false,
					fails: value === null,
					why: (value === null ? { value: report.whyNoHover } : {}) as Record<string, string>,
				};
			}),
			why: { drill: "from the trim, no flight needed" },
		};
	};
	return [
		row("hover stick", "%", "less", ({ stick }) => 100 * stick),
		row("thrust to weight", "", "more", ({ thrustToWeight }) => thrustToWeight),
		row("power in hover", "W", "less", ({ powerW }) => powerW),
	];
}

/** What settles the matter; the first that has something to say is the sentence. */
const VERDICTS: readonly ((trade: LoadTrade) => string | null)[] = [
	({ load, loaded: { report } }) =>
		report.hover ? null : `With ${load} this craft cannot hover: ${report.whyNoHover}.`,
	({ set, without }) =>
		without.fails.length > 0 ? `${set} fails already without load: ${without.fails[0]}.` : null,
	({ set, load, loaded }) =>
		loaded.fails.length > 0 ? `${set} holds without load but fails with ${load}: ${loaded.fails[0]}.` : null,
];

/** What the load does, one part of the sentence each; null: not worth a word. */
const EFFECTS: readonly ((trade: LoadTrade) => string | null)[] = [
	({ without, loaded }) => {
		const [from, to] = [without.report.hover!, loaded.report.hover!];
		return `hovers at ${fixed(100 * to.stick, 0)} % stick instead of ${fixed(100 * from.stick, 0)} %`;
	},
	({ without, loaded }) => {
		const [from, to] = [without.report.hover!.thrustToWeight, loaded.report.hover!.thrustToWeight];
		return `has ${fixed(to, 2)} times its weight in thrust instead of ${fixed(from, 2)}`;
	},
	({ rows, without, loaded }) => {
		const least = rows.find(({ what }) => what === "least phase margin");
		const at = (name: string) => least?.cells.find((cell) => cell.set === name)?.value ?? null;
		const [from, to] = [at(without.name), at(loaded.name)];
		if (from === null || to === null || Math.abs(to - from) < 0.5) return null;
		return `keeps ${fixed(Math.abs(to - from), 1)} deg ${to < from ? "less" : "more"} phase margin (${fixed(to, 1)} against ${fixed(from, 1)})`;
	},
	({ rows, without, loaded }) => {
		const off = meanChange(rows, loaded.name, without.name, ({ what }) => what.endsWith(" IAE"));
		if (off === null || Math.abs(off) < 0.02) return null;
		const share = `${fixed(100 * Math.abs(off), 0)} %`;
		return off > 0 ? `strays ${share} further from the set-point` : `stays ${share} closer to the set-point`;
	},
	({ rows, without, loaded }) => {
		const over = largestChange(rows, loaded.name, without.name, ({ what }) => what.endsWith(" overshoot"));
		if (!over || Math.abs(over.change) < 0.5) return null;
		return `overshoots ${fixed(Math.abs(over.change), 1)} points ${over.change > 0 ? "more" : "less"}`;
	},
];

/** What taking the heaviest load does to one gain set, in a sentence with its numbers. */
export function loadSentence(trade: LoadTrade): string {
	for (const rule of VERDICTS) {
		const said = rule(trade);
		if (said) return said;
	}
	const parts = EFFECTS.flatMap((rule) => rule(trade) ?? []);
	return `With ${trade.load} ${trade.set} ${parts.slice(0, -1).join(", ")} and ${parts[parts.length - 1]}.`;
}
