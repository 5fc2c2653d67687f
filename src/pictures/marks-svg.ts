import { isDrawn, linePath } from "./line-path.ts";
import type { Mark } from "./picture.ts";
import type { Box, Scale } from "./scale.ts";
import { silhouetteSvg } from "./silhouette-svg.ts";
import { colourOf, strokeOf, type Theme } from "./theme.ts";
import { element, escapeXml } from "./xml.ts";

/** Text with a paper edge, so that it reads across lines. */
export function label(
	text: string,
	x: number,
	y: number,
	theme: Theme,
	change: Record<string, string | number> = {},
): string {
	return element(
		"text",
		{
			x,
			y,
			"font-size": 12,
			fill: theme.ink,
			stroke: theme.paper,
			"stroke-width": 3.5,
			"stroke-linejoin": "round",
			"paint-order": "stroke",
			...change,
		},
		escapeXml(text),
	);
}

/** A gain set's letter in a disc. */
export function badge(letter: string, x: number, y: number, colour: string, theme: Theme): string {
	return (
		element("circle", { cx: x, cy: y, r: 8, fill: theme.paper, stroke: colour, "stroke-width": 1.5 }) +
		element(
			"text",
			{
				x,
				y: y + 4,
				"font-size": 11,
				"font-weight": "700",
				"text-anchor": "middle",
				fill: theme.ink,
			},
			escapeXml(letter),
		)
	);
}

/** Marks that lie under the lines. */
export function regionSvg(mark: Mark, x: Scale, y: Scale, theme: Theme): string {
	if (mark.kind !== "region") return "";
	const d = `${linePath(mark, x, y)}Z`;
	if (d === "Z") return "";
	const colour = colourOf(mark.look, theme);
	return element("path", { d, ...strokeOf(mark.look, theme), fill: colour, "fill-opacity": "0.07" });
}

export function markSvg(mark: Mark, x: Scale, y: Scale, box: Box, theme: Theme): string {
	switch (mark.kind) {
		case "vertical": {
			if (!isDrawn(mark.x, x)) return "";
			const px = x.at(mark.x);
			const right = px > box.left + box.width * 0.7;
			return (
				element("path", {
					d: `M${px.toFixed(2)} ${box.top}V${box.top + box.height}`,
					...strokeOf(mark.look, theme),
				}) +
				label(mark.text, px + (right ? -6 : 6), box.top + 12, theme, {
					"text-anchor": right ? "end" : "start",
				})
			);
		}
		case "horizontal": {
			if (!isDrawn(mark.y, y)) return "";
			const py = y.at(mark.y);
			return (
				element("path", {
					d: `M${box.left} ${py.toFixed(2)}H${box.left + box.width}`,
					...strokeOf(mark.look, theme),
				}) +
				label(mark.text, box.left + box.width - 4, py - 5, theme, { "text-anchor": "end", fill: theme.quiet })
			);
		}
		case "point": {
			if (!isDrawn(mark.x, x) || !isDrawn(mark.y, y)) return "";
			const [px, py] = [x.at(mark.x), y.at(mark.y)];
			const colour = colourOf(mark.look, theme);
			const dot = mark.look.letter
				? badge(mark.look.letter, px, py, colour, theme)
				: element("circle", {
						cx: px,
						cy: py,
						r: 3.5,
						fill: theme.paper,
						stroke: colour,
						"stroke-width": 1.75,
					});
			const left = px > box.left + box.width * 0.75;
			return (
				dot +
				label(mark.text, px + (left ? -12 : 12), py + 4, theme, { "text-anchor": left ? "end" : "start" })
			);
		}
		case "span": {
			const ends = [mark.from, mark.to];
			if (!ends.every((p) => isDrawn(p[0], x) && isDrawn(p[1], y))) return "";
			const [[ax, ay], [bx, by]] = ends.map((p) => [x.at(p[0]), y.at(p[1])]) as [
				[number, number],
				[number, number],
			];
			const colour = colourOf(mark.look, theme);
			const left = bx > box.left + box.width * 0.2;
			return (
				element("line", { x1: ax, y1: ay, x2: bx, y2: by, stroke: colour, "stroke-width": 2.5 }) +
				[
					[ax, ay],
					[bx, by],
				]
					.map(([cx, cy]) => element("circle", { cx: cx!, cy: cy!, r: 3, fill: colour }))
					.join("") +
				label(mark.text, bx + (left ? -9 : 9), by + (by > ay ? 10 : -3), theme, {
					"text-anchor": left ? "end" : "start",
				})
			);
		}
		case "text":
			return isDrawn(mark.x, x) && isDrawn(mark.y, y)
				? label(mark.text, x.at(mark.x), y.at(mark.y), theme)
				: "";
		case "silhouette": {
			if (!isDrawn(mark.x, x) || !isDrawn(mark.y, y)) return "";
			const [px, py] = [x.at(mark.x), y.at(mark.y)];
			return (
				silhouetteSvg(mark, px, py, theme) +
				label(mark.text, px, py + 30, theme, { "text-anchor": "middle", "font-size": 11, fill: theme.quiet })
			);
		}
		case "region": {
			let best = -1;
			for (let i = 0; i < mark.x.length; i++)
				if (isDrawn(mark.y[i]!, y) && (best < 0 || mark.y[i]! > mark.y[best]!)) best = i;
			if (best < 0 || !isDrawn(mark.x[best]!, x)) return "";
			return label(mark.text, x.at(mark.x[best]!), y.at(mark.y[best]!) - 6, theme, {
				"text-anchor": "middle",
				fill: theme.quiet,
			});
		}
	}
}
