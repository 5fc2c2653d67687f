import { badge } from "./marks-svg.ts";
import { panelSvg } from "./panel-svg.ts";
import type { LegendEntry, Picture } from "./picture.ts";
import type { Box } from "./scale.ts";
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

const MARGIN = { left: 64, right: 28, top: 20, bottom: 22 };
const SANS = "system-ui, -apple-system, 'Segoe UI', 'Noto Sans', 'DejaVu Sans', sans-serif";
const SERIF = "'Iowan Old Style', 'Palatino Linotype', Palatino, Georgia, 'DejaVu Serif', serif";
const BELOW_PANEL = 40;
const ABOVE_PANEL = 26;

/** The picture as one self-contained SVG document; the same input gives the same text. */
export function pictureSvg(picture: Picture, options: SvgOptions = { theme: "light" }): string {
	const theme = THEMES[options.theme];
	const width = options.widthPx ?? 760;
	const prefix = options.idPrefix ?? "";
	const legend = legendSvg(picture.legend, theme, width);
	const header = MARGIN.top + 24 + legend.height;
	const footer = MARGIN.bottom + (picture.note ? 16 : 0);
	const height = options.heightPx ?? defaultHeight(picture) + header + footer;
	const boxes = layOut(picture, { left: 0, top: header, width, height: height - header - footer });
	const body = [
		options.paper === false ? "" : element("rect", { width, height, fill: theme.paper }),
		element(
			"text",
			{ x: MARGIN.left, y: MARGIN.top + 14, "font-family": SERIF, "font-size": 18, fill: theme.ink },
			escapeXml(picture.title),
		),
		legend.svg,
		...picture.panels.map((panel, i) =>
			panelSvg(
				panel,
				boxes[i]!,
				theme,
				`${prefix}panel${i}`,
				panel.x.label !== picture.panels[i + 1]?.x.label,
			),
		),
		picture.invented ? inventedSvg(width, (header + height - footer) / 2, theme) : "",
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

function defaultHeight(picture: Picture): number {
	const n = picture.panels.length;
	if (picture.panels.some((p) => p.equalScales)) return 560;
	return n <= 1 ? 360 : n * (n === 2 ? 250 : 175);
}

function layOut(picture: Picture, room: Box): Box[] {
	const total = picture.panels.reduce((sum, p) => sum + p.weight, 0);
	let top = room.top;
	return picture.panels.map((panel) => {
		const share = (room.height * panel.weight) / total;
		const box = {
			left: MARGIN.left,
			top: top + ABOVE_PANEL,
			width: room.width - MARGIN.left - MARGIN.right,
			height: Math.max(20, share - ABOVE_PANEL - BELOW_PANEL),
		};
		top += share;
		return box;
	});
}

/** One line of samples and names, wrapped where it is full. Text width is estimated: no font is at hand here. */
function legendSvg(
	entries: readonly LegendEntry[],
	theme: Theme,
	width: number,
): { readonly svg: string; readonly height: number } {
	if (entries.length === 0) return { svg: "", height: 0 };
	let x = MARGIN.left;
	let y = MARGIN.top + 38;
	const parts = entries.map(({ text, look }) => {
		const lettered = look.letter !== "" && look.weight !== "faint";
		const sample = lettered ? 62 : 36;
		const needed = sample + text.length * 6.4 + 20;
		if (x > MARGIN.left && x + needed > width - MARGIN.right) {
			x = MARGIN.left;
			y += 20;
		}
		const line = element("line", { x1: x, y1: y - 4, x2: x + 28, y2: y - 4, ...strokeOf(look, theme) });
		const mark = lettered ? badge(look.letter, x + 42, y - 4, colourOf(look, theme), theme) : "";
		const words = element(
			"text",
			{ x: x + sample - 4, y, "font-size": 12.5, fill: theme.ink },
			escapeXml(text),
		);
		x += needed;
		return line + mark + words;
	});
	return { svg: parts.join(""), height: y - MARGIN.top - 14 };
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
