import { fieldRange, fieldSvg } from "./field-svg.ts";
import { isDrawn, linePath } from "./line-path.ts";
import { badge, label, markSvg, regionSvg } from "./marks-svg.ts";
import type { Axis, Panel, Series } from "./picture.ts";
import { type Box, panelScales, type Scale } from "./scale.ts";
import { colourOf, setIndex, shade, strokeOf, type Theme } from "./theme.ts";
import { plainNumber, type Tick } from "./ticks.ts";
import { element, escapeXml } from "./xml.ts";

/**
 * @param id of this panel's clip path, unique in the drawing
 * @param nameX whether the x axis says what it is: the lowest of panels that share it does
 */
export function panelSvg(panel: Panel, box: Box, theme: Theme, id: string, nameX: boolean): string {
	const { x, y } = panelScales(panel, box);
	const clip = element("clipPath", { id }, element("rect", boxAttributes(box)));
	const clipped = [
		panel.field ? fieldSvg(panel.field, x, y, theme) : "",
		...panel.marks.map((mark) => regionSvg(mark, x, y, theme)),
		...[...panel.series].sort(faintFirst).map((s) => {
			const d = linePath(s, x, y);
			return d && element("path", { d, ...strokeOf(s.look, theme) }, element("title", {}, escapeXml(s.name)));
		}),
	].join("");
	return [
		clip,
		axesSvg(panel, x, y, box, theme, nameX),
		element("g", { "clip-path": `url(#${id})` }, clipped),
		...panel.series.map((s) => letterSvg(s, x, y, theme)),
		...panel.marks.map((mark) => markSvg(mark, x, y, box, theme)),
		panel.field ? keySvg(panel, box, theme) : "",
	].join("\n");
}

const boxAttributes = (box: Box) => ({ x: box.left, y: box.top, width: box.width, height: box.height });

const RANK = { faint: 0, plain: 1, strong: 2 };
const faintFirst = (a: Series, b: Series): number => RANK[a.look.weight] - RANK[b.look.weight];

function axesSvg(panel: Panel, x: Scale, y: Scale, box: Box, theme: Theme, nameX: boolean): string {
	const bottom = box.top + box.height;
	const right = box.left + box.width;
	const small = { "font-size": 12, fill: theme.quiet };
	const grid = (d: string, minor: boolean): string =>
		element("path", { d, stroke: theme.grid, "stroke-width": minor ? 0.5 : 1 });
	const parts: string[] = [];
	for (const tick of x.ticks(Math.max(2, Math.round(box.width / 90)))) {
		const px = x.at(tick.value).toFixed(2);
		parts.push(grid(`M${px} ${box.top}V${bottom}`, isMinor(tick)));
		if (tick.label)
			parts.push(
				element(
					"text",
					{ x: Number(px), y: bottom + 17, "text-anchor": "middle", ...small },
					escapeXml(tick.label),
				),
			);
	}
	for (const tick of y.ticks(Math.max(3, Math.round(box.height / 42)))) {
		const py = y.at(tick.value).toFixed(2);
		parts.push(grid(`M${box.left} ${py}H${right}`, isMinor(tick)));
		if (tick.label)
			parts.push(
				element(
					"text",
					{ x: box.left - 8, y: Number(py) + 4, "text-anchor": "end", ...small },
					escapeXml(tick.label),
				),
			);
	}
	parts.push(element("path", { d: `M${box.left} ${bottom}H${right}`, stroke: theme.ink, "stroke-width": 1 }));
	parts.push(
		element(
			"text",
			{ x: box.left, y: box.top - 9, "font-size": 12, fill: theme.ink },
			escapeXml(axisText(panel.y)),
		),
		element(
			"text",
			{ x: right, y: bottom + 34, "text-anchor": "end", "font-size": 12, fill: theme.ink },
			nameX ? escapeXml(axisText(panel.x)) : "",
		),
	);
	return parts.join("");
}

const isMinor = (tick: Tick): boolean => tick.label === "";

function axisText(axis: Axis): string {
	return axis.unit ? `${axis.label}, ${axis.unit}` : axis.label;
}

/** The set's letter on its line: each set at its own place along it, so that letters on one curve do not collide. */
function letterSvg(series: Series, x: Scale, y: Scale, theme: Theme): string {
	const { letter, weight } = series.look;
	if (letter === "" || weight === "faint") return "";
	const inside: number[] = [];
	for (let i = 0; i < series.x.length; i++) {
		const [vx, vy] = [series.x[i]!, series.y[i]!];
		if (isDrawn(vx, x) && isDrawn(vy, y) && vx >= x.low && vx <= x.high && vy >= y.low && vy <= y.high)
			inside.push(i);
	}
	if (inside.length === 0) return "";
	const share = 0.3 + 0.09 * setIndex(letter);
	// By distance along x, not by index: samples may crowd at one end.
	const [a, b] = [x.at(series.x[inside[0]!]!), x.at(series.x[inside[inside.length - 1]!]!)];
	const target = a + share * (b - a);
	let best = inside[0]!;
	for (const i of inside)
		if (Math.abs(x.at(series.x[i]!) - target) < Math.abs(x.at(series.x[best]!) - target)) best = i;
	return badge(letter, x.at(series.x[best]!), y.at(series.y[best]!), colourOf(series.look, theme), theme);
}

/** What the shades mean, above the panel at the right. */
function keySvg(panel: Panel, box: Box, theme: Theme): string {
	const field = panel.field!;
	const range = fieldRange(field);
	if (!range) return "";
	const steps = 8;
	const [width, top] = [112, box.top - 18];
	const left = box.left + box.width - width - 40;
	const bars = Array.from({ length: steps }, (_, k) =>
		element("rect", {
			x: left + (k * width) / steps,
			y: top,
			width: width / steps,
			height: 9,
			fill: shade(theme, k / (steps - 1)),
		}),
	).join("");
	const say = (text: string, x: number, anchor: string): string =>
		label(text, x, top + 9, theme, { "text-anchor": anchor, fill: theme.quiet });
	const name = field.unit ? `${field.label}, ${field.unit}` : field.label;
	const digits = range.high - range.low < 5 ? 2 : 1;
	return (
		element("g", { "shape-rendering": "crispEdges" }, bars) +
		say(`${name}  ${plainNumber(range.low, digits)}`, left - 6, "end") +
		say(plainNumber(range.high, digits), left + width + 6, "start")
	);
}
