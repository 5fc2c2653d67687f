import type { Axis, Mark, Panel } from "./picture.ts";
import { linearTicks, logTicks, type Tick } from "./ticks.ts";

/** From a value to pixels, along one axis. */
export interface Scale {
	readonly low: number;
	readonly high: number;
	readonly log: boolean;
	at(value: number): number;
	ticks(count: number): Tick[];
}

export interface Box {
	readonly left: number;
	readonly top: number;
	readonly width: number;
	readonly height: number;
}

export function panelScales(panel: Panel, box: Box): { x: Scale; y: Scale } {
	let x = rangeOf(panel, "x");
	let y = rangeOf(panel, "y");
	if (panel.equalScales) {
		const perPixel = Math.max((x[1] - x[0]) / box.width, (y[1] - y[0]) / box.height);
		x = widened(x, perPixel * box.width);
		y = widened(y, perPixel * box.height);
	}
	return {
		x: scale(panel.x, x, box.left, box.left + box.width),
		y: scale(panel.y, y, box.top + box.height, box.top),
	};
}

function scale(axis: Axis, [low, high]: readonly [number, number], from: number, to: number): Scale {
	const log = axis.scale === "log";
	const t = (v: number): number => (log ? Math.log10(v) : v);
	const factor = (to - from) / (t(high) - t(low));
	return {
		low,
		high,
		log,
		at: (value) => Math.max(-1e4, Math.min(1e4, from + (t(value) - t(low)) * factor)),
		ticks: (count) => (log ? logTicks(low, high) : linearTicks(low, high, count, axis.tickStep)),
	};
}

function widened([low, high]: readonly [number, number], length: number): [number, number] {
	const middle = (low + high) / 2;
	return [middle - length / 2, middle + length / 2];
}

/** What the axis states, else what series, field and marks span, with some air on y. */
function rangeOf(panel: Panel, which: "x" | "y"): [number, number] {
	const axis = panel[which];
	if (axis.range) return [axis.range[0], axis.range[1]];
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	const take = (value: number): void => {
		if (!Number.isFinite(value) || (axis.scale === "log" && value <= 0)) return;
		low = Math.min(low, value);
		high = Math.max(high, value);
	};
	for (const series of panel.series) for (let i = 0; i < series[which].length; i++) take(series[which][i]!);
	if (panel.field) for (let i = 0; i < panel.field[which].length; i++) take(panel.field[which][i]!);
	for (const mark of panel.marks) for (const value of markValues(mark, which)) take(value);
	if (low > high) return axis.scale === "log" ? [1, 10] : [0, 1];
	if (low === high) return axis.scale === "log" ? [low / 2, high * 2] : [low - 0.5, high + 0.5];
	if (which === "x" || panel.field) return [low, high];
	if (axis.scale === "log") return [low / 1.2, high * 1.2];
	const air = 0.07 * (high - low);
	return [low - air, high + air];
}

function markValues(mark: Mark, which: "x" | "y"): ArrayLike<number> & Iterable<number> {
	if (mark.kind === "region") return Array.from(mark[which]);
	if (mark.kind === "span") return which === "x" ? [mark.from[0], mark.to[0]] : [mark.from[1], mark.to[1]];
	if (mark.kind === "vertical") return which === "x" ? [mark.x] : [];
	if (mark.kind === "horizontal") return which === "y" ? [mark.y] : [];
	return [mark[which]];
}
