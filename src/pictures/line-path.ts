import type { Series } from "./picture.ts";
import type { Scale } from "./scale.ts";
import { pixels } from "./xml.ts";

/**
 * A series as SVG path data. Where a value is missing (not finite, or not above 0 on a log axis) the line breaks. A long
 * series whose x rises is drawn as first, least, greatest and last value of each pixel column, so that no peak is lost.
 */
export function linePath(series: Pick<Series, "x" | "y">, x: Scale, y: Scale): string {
	const xs: number[] = [];
	const ys: number[] = [];
	for (let i = 0; i < series.x.length; i++) {
		const drawn = isDrawn(series.x[i]!, x) && isDrawn(series.y[i]!, y);
		xs.push(drawn ? x.at(series.x[i]!) : Number.NaN);
		ys.push(drawn ? y.at(series.y[i]!) : Number.NaN);
	}
	const columns = Math.abs(x.at(x.high) - x.at(x.low));
	const order = xs.length > 2 * columns && rises(xs) ? thinned(xs, ys) : xs.map((_, i) => i);
	let path = "";
	let pen = false;
	for (const i of order) {
		if (Number.isNaN(xs[i]!)) {
			pen = false;
			continue;
		}
		path += `${pen ? "L" : "M"}${pixels(xs[i]!)} ${pixels(ys[i]!)}`;
		pen = true;
	}
	return path;
}

export function isDrawn(value: number, scale: Scale): boolean {
	return Number.isFinite(value) && (!scale.log || value > 0);
}

function rises(xs: readonly number[]): boolean {
	for (let i = 1; i < xs.length; i++) if (xs[i]! < xs[i - 1]!) return false;
	return true;
}

function thinned(xs: readonly number[], ys: readonly number[]): number[] {
	const order: number[] = [];
	let i = 0;
	while (i < xs.length) {
		if (Number.isNaN(xs[i]!)) {
			order.push(i++);
			continue;
		}
		const column = Math.floor(xs[i]!);
		const first = i;
		let least = i;
		let greatest = i;
		while (i < xs.length && Math.floor(xs[i]!) === column) {
			if (ys[i]! < ys[least]!) least = i;
			if (ys[i]! > ys[greatest]!) greatest = i;
			i++;
		}
		order.push(...[...new Set([first, least, greatest, i - 1])].sort((a, b) => a - b));
	}
	return order;
}
