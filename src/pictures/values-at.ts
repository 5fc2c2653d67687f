import type { Panel } from "./picture.ts";
import { panelScales } from "./scale.ts";

export interface ValueAt {
	/** As the legend has it: the set's letter, else the curve's name. */
	readonly of: string;
	/** With a true minus sign; '-' where the curve has no value there. */
	readonly text: string;
}

/** What each curve of a panel stands at over one x, as it is drawn: straight between its points. Faint curves are left out. */
export function valuesAt(panel: Panel, x: number): ValueAt[] {
	const { low, high } = panelScales(panel, { left: 0, top: 0, width: 1, height: 1 }).y;
	const decimals = decimalsFor(high - low);
	return panel.series
		.filter((series) => series.look.weight !== "faint")
		.map((series) => {
			const value = valueAt(series.x, series.y, x);
			return {
				of: series.look.letter || series.name,
				text: value === null ? "-" : fixed(value, decimals),
			};
		});
}

/** Straight between the points on both sides; null beyond the ends and where a point is no number. `xs` rises. */
export function valueAt(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number | null {
	const last = Math.min(xs.length, ys.length) - 1;
	// A hair of room: an instant may come back from pixels.
	if (last < 0 || x < xs[0]! - 1e-9 || x > xs[last]! + 1e-9) return null;
	let low = 0;
	let high = last;
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (xs[middle]! <= x) low = middle;
		else high = middle;
	}
	const wide = xs[high]! - xs[low]!;
	const share = wide > 0 ? Math.max(0, Math.min(1, (x - xs[low]!) / wide)) : 0;
	const value = share === 0 ? ys[low]! : share === 1 ? ys[high]! : ys[low]! * (1 - share) + ys[high]! * share;
	return Number.isFinite(value) ? value : null;
}

/** So many that a two-hundredth of the panel's height is seen. */
function decimalsFor(range: number): number {
	return range > 0 && Number.isFinite(range)
		? Math.max(0, Math.min(9, Math.ceil(-Math.log10(range / 200))))
		: 2;
}

/** Of one width however it changes: nothing jumps while it plays. */
export function fixed(value: number, decimals: number): string {
	const text = Math.abs(value).toFixed(decimals);
	return (value < 0 && Number(text) !== 0 ? "\u2212" : "") + text;
}
