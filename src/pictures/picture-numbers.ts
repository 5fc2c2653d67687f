import type { Field, KeyNumber, Mark, Panel, Picture, Series } from "./picture.ts";

/** A picture's key numbers as a table: text as people read and copy it, '-' where there is none. */
interface NumbersTable {
	readonly caption: string;
	readonly columns: readonly { readonly title: string; readonly number?: boolean }[];
	readonly rows: readonly (readonly string[])[];
}

const NONE = "-";

/** What the engine found first, then what can be read off the drawing: curves, marks, attitudes, shades. Empty tables are left out. */
export function pictureNumbers(picture: Picture): NumbersTable[] {
	return [
		foundTable(picture.numbers ?? []),
		curvesTable(picture.panels),
		attitudesTable(picture.panels),
		marksTable(picture.panels),
		shadesTable(picture.panels),
	].filter((table) => table.rows.length > 0);
}

function foundTable(numbers: readonly KeyNumber[]): NumbersTable {
	return {
		caption: "Key numbers",
		columns: [
			{ title: "what" },
			{ title: "set" },
			{ title: "value", number: true },
			{ title: "unit" },
			{ title: "where, or why none" },
		],
		rows: numbers.map(({ what, of, value, unit, where }) => [
			what,
			of,
			value === null ? NONE : figures(value, value),
			unit,
			where,
		]),
	};
}

function curvesTable(panels: readonly Panel[]): NumbersTable {
	const x = panels[0]?.x;
	const where = x?.unit ? `at ${x.label}, ${x.unit}` : `at ${x?.label ?? "x"}`;
	return {
		caption: "Curves",
		columns: [
			{ title: "curve" },
			{ title: "of" },
			{ title: "unit" },
			{ title: "first", number: true },
			{ title: "last", number: true },
			{ title: "least", number: true },
			{ title: where, number: true },
			{ title: "greatest", number: true },
			{ title: where, number: true },
		],
		rows: panels.flatMap((panel) =>
			[...panel.series, ...panel.marks.flatMap(bandOf)].flatMap((series) => {
				const row = extremes(series);
				if (!row) return [];
				const y = (value: number): string => figures(value, row.size);
				const at = (value: number): string => figures(value, row.xSize);
				return [
					[
						panel.y.label,
						nameOf(series.look.letter, series.name),
						panel.y.unit,
						y(row.first),
						y(row.last),
						y(row.least),
						at(row.leastAt),
						y(row.greatest),
						at(row.greatestAt),
					],
				];
			}),
		),
	};
}

const nameOf = (letter: string, name: string): string =>
	letter === "" || name === letter || name === `set ${letter}` ? letter || name : `${letter}: ${name}`;

/** An outline such as the band of all corners, as if it were a curve. */
function bandOf(mark: Mark): Series[] {
	if (mark.kind !== "region") return [];
	return [{ name: mark.text || "band", x: mark.x, y: mark.y, look: { ...mark.look, letter: "" } }];
}

interface Extremes {
	readonly first: number;
	readonly last: number;
	readonly least: number;
	readonly leastAt: number;
	readonly greatest: number;
	readonly greatestAt: number;
	/** Of its largest value, which the figures that are shown suit. */
	readonly size: number;
	readonly xSize: number;
}

/** Over the points that are numbers; null where there is none. */
function extremes({ x, y }: Pick<Series, "x" | "y">): Extremes | null {
	let [first, last, least, greatest] = [-1, -1, -1, -1];
	let xSize = 0;
	for (let i = 0; i < Math.min(x.length, y.length); i++) {
		if (!Number.isFinite(x[i]!) || !Number.isFinite(y[i]!)) continue;
		if (first < 0) [first, least, greatest] = [i, i, i];
		last = i;
		if (y[i]! < y[least]!) least = i;
		if (y[i]! > y[greatest]!) greatest = i;
		xSize = Math.max(xSize, Math.abs(x[i]!));
	}
	if (first < 0) return null;
	return {
		first: y[first]!,
		last: y[last]!,
		least: y[least]!,
		leastAt: x[least]!,
		greatest: y[greatest]!,
		greatestAt: x[greatest]!,
		size: Math.max(Math.abs(y[least]!), Math.abs(y[greatest]!)),
		xSize,
	};
}

const SEEN = { behind: "roll", right: "pitch", above: "heading" } as const;
const DEG = 180 / Math.PI;

function attitudesTable(panels: readonly Panel[]): NumbersTable {
	return {
		caption: "Attitudes",
		columns: [
			{ title: "time, s" },
			{ title: "set" },
			{ title: "turn" },
			{ title: "is, deg", number: true },
			{ title: "asked for, deg", number: true },
			{ title: "height, m", number: true },
			{ title: "rotors" },
		],
		rows: panels.flatMap((panel) =>
			panel.marks.flatMap((mark) =>
				mark.kind === "silhouette"
					? [
							[
								plain(mark.x, 2),
								mark.look.letter,
								SEEN[mark.view],
								plain(mark.angleRad * DEG, 1),
								mark.askedRad === null ? NONE : plain(mark.askedRad * DEG, 1),
								plain(mark.y, 2),
								mark.live ? "turning" : "still",
							],
						]
					: [],
			),
		),
	};
}

/** Marks that say something, with where they stand. */
function marksTable(panels: readonly Panel[]): NumbersTable {
	const said = panels.flatMap((panel) =>
		panel.marks.flatMap((mark): string[][] => {
			const place = placeOf(mark);
			const name = mark.text || ("look" in mark ? mark.look.letter : "");
			if (!place || name === "") return [];
			const [x, y, toX, toY] = place.map((value) => (value === null ? NONE : figures(value, value)));
			return [[name, axisWords(panel.x), x!, toX!, axisWords(panel.y), y!, toY!]];
		}),
	);
	return {
		caption: "Marks",
		columns: [
			{ title: "mark" },
			{ title: "along" },
			{ title: "from", number: true },
			{ title: "to", number: true },
			{ title: "up" },
			{ title: "from", number: true },
			{ title: "to", number: true },
		],
		rows: said,
	};
}

const axisWords = ({ label, unit }: Panel["x"]): string => (unit ? `${label}, ${unit}` : label);

/** x, y and the other end of a stretch; null for what has no one place. */
function placeOf(mark: Mark): readonly [number | null, number | null, number | null, number | null] | null {
	switch (mark.kind) {
		case "point":
		case "text":
			return [mark.x, mark.y, null, null];
		case "vertical":
			return [mark.x, null, null, null];
		case "horizontal":
			return [null, mark.y, null, null];
		case "span":
			return [...mark.from, ...mark.to];
		default:
			return null;
	}
}

function shadesTable(panels: readonly Panel[]): NumbersTable {
	const shaded = panels.flatMap((panel) => (panel.field ? [{ panel, field: panel.field }] : []));
	const { panel } = shaded[0] ?? {};
	return {
		caption: "Shades",
		columns: [
			{ title: "what" },
			{ title: "value", number: true },
			{ title: "unit" },
			{ title: panel ? axisWords(panel.x) : "x", number: true },
			{ title: panel ? axisWords(panel.y) : "y", number: true },
		],
		rows: shaded.flatMap(({ field }) => shadeRows(field)),
	};
}

function shadeRows(field: Field): string[][] {
	const { x, y, values, label, unit } = field;
	const cells = Array.from(values, (value, i) => ({ value, i })).filter((cell) =>
		Number.isFinite(cell.value),
	);
	const count = [`cells with an answer, of ${values.length}`, String(cells.length), "", NONE, NONE];
	if (cells.length === 0) return [count];
	const row = (what: string, { value, i }: { value: number; i: number }): string[] => {
		const [across, up] = [x[i % x.length]!, y[Math.floor(i / x.length)]!];
		return [`${what} ${label}`, figures(value, value), unit, figures(across, across), figures(up, up)];
	};
	const least = cells.reduce((a, b) => (b.value < a.value ? b : a));
	const greatest = cells.reduce((a, b) => (b.value > a.value ? b : a));
	return [row("least", least), row("greatest", greatest), count];
}

/** Four figures of what is as large as `size`, without an exponent while that is readable. */
function figures(value: number, size: number): string {
	const large = Math.abs(size);
	if (!Number.isFinite(value)) return NONE;
	if (large === 0) return "0";
	const decimals = 3 - Math.floor(Math.log10(large));
	return decimals > 9 || decimals < -5 ? value.toExponential(3) : plain(value, Math.max(0, decimals));
}

const plain = (value: number, decimals: number): string => {
	if (!Number.isFinite(value)) return NONE;
	const text = value.toFixed(decimals);
	return Number(text) === 0 ? text.replace("-", "") : text;
};
