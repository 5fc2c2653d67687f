import { type LegendPlace, MARGIN, pictureLayout } from "./layout.ts";
import { badge } from "./marks-svg.ts";
import { panelSvg } from "./panel-svg.ts";
import type { LegendEntry, Picture } from "./picture.ts";
import { colourOf, strokeOf, THEMES, type Theme } from "./theme.ts";
import { element, escapeXml } from "./xml.ts";

export interface SvgOptions {
	readonly theme: "light" | "dark";
	readonly widthPx?: number;
	readonly heightPx?: number;
	/** Put before every id, so that several drawings can stand in one page. */
	readonly idPrefix?: string;
	/** False: what lies under the drawing shows through. */
	readonly paper?: boolean;
}

const SANS = "system-ui, -apple-system, 'Segoe UI', 'Noto Sans', 'DejaVu Sans', sans-serif";
const SERIF = "'Iowan Old Style', 'Palatino Linotype', Palatino, Georgia, 'DejaVu Serif', serif";

/** The picture as one self-contained SVG document; the same input gives the same text. */
export function pictureSvg(picture: Picture, options: SvgOptions = { theme: "light" }): string {
	const theme = THEMES[options.theme];
	const prefix = options.idPrefix ?? "";
	const layout = pictureLayout(picture, options.widthPx ?? 760, options.heightPx);
	const { width, height, boxes, body: ends } = layout;
	const body = [
		options.paper === false ? "" : element("rect", { width, height, fill: theme.paper }),
		element(
			"text",
			{ x: MARGIN.left, y: MARGIN.top + 14, "font-family": SERIF, "font-size": 18, fill: theme.ink },
			escapeXml(picture.title),
		),
		legendSvg(picture.legend, layout.legend, theme),
		...picture.panels.map((panel, i) =>
			panelSvg(
				panel,
				boxes[i]!,
				theme,
				`${prefix}panel${i}`,
				panel.x.label !== picture.panels[i + 1]?.x.label,
			),
		),
		picture.invented ? inventedSvg(width, (ends[0] + ends[1]) / 2, theme) : "",
		picture.note
			? element(
					"text",
					{ x: MARGIN.left, y: height - 16, "font-size": 11, fill: theme.quiet },
					escapeXml(picture.note),
				)
			: "",
	];
	return `${element(
		"svg",
		{
			xmlns: "http://www.w3.org/2000/svg",
			viewBox: `0 0 ${width} ${height}`,
			width,
			height,
			role: "img",
			"aria-labelledby": `${prefix}title ${prefix}desc`,
			"font-family": SANS,
			style: "font-variant-numeric: tabular-nums",
		},
		`\n${element("title", { id: `${prefix}title` }, escapeXml(picture.title))}\n${element(
			"desc",
			{ id: `${prefix}desc` },
			escapeXml(picture.invented ? `${picture.description} Invented craft.` : picture.description),
		)}\n${body.filter((part) => part !== "").join("\n")}\n`,
	)}\n`;
}

function legendSvg(entries: readonly LegendEntry[], places: readonly LegendPlace[], theme: Theme): string {
	return entries
		.map(({ text, look }, i) => {
			const { x, y, sample } = places[i]!;
			const lettered = look.letter !== "" && look.weight !== "faint";
			const line = element("line", { x1: x, y1: y - 4, x2: x + 28, y2: y - 4, ...strokeOf(look, theme) });
			const mark = lettered ? badge(look.letter, x + 42, y - 4, colourOf(look, theme), theme) : "";
			const words = element(
				"text",
				{ x: x + sample - 4, y, "font-size": 12.5, fill: theme.ink },
				escapeXml(text),
			);
			return line + mark + words;
		})
		.join("");
}

function inventedSvg(width: number, middle: number, theme: Theme): string {
	return element(
		"text",
		{
			x: width / 2,
			y: middle,
			"font-family": SERIF,
			"font-size": Math.round(width / 11),
			"font-style": "italic",
			"text-anchor": "middle",
			fill: theme.ink,
			"fill-opacity": "0.085",
			transform: `rotate(-14 ${width / 2} ${Math.round(middle)})`,
			"aria-hidden": "true",
		},
		"Invented craft",
	);
}
