import type { LegendEntry, Picture } from "./picture.ts";
import type { Box } from "./scale.ts";

/** Room about the panels. */
export const MARGIN = { left: 64, right: 28, top: 20, bottom: 22 };
const BELOW_PANEL = 40;
const ABOVE_PANEL = 26;

export interface LegendPlace {
	readonly x: number;
	readonly y: number;
	/** From the start of the sample line to the words. */
	readonly sample: number;
}

export interface PictureLayout {
	readonly width: number;
	readonly height: number;
	/** Top and bottom of all panels together. */
	readonly body: readonly [number, number];
	/** Where each panel's axes stand. */
	readonly boxes: readonly Box[];
	readonly legend: readonly LegendPlace[];
}

/** Where everything of a picture stands on the page, so that what lies over the drawing meets it. */
export function pictureLayout(picture: Picture, width: number, heightPx?: number): PictureLayout {
	const legend = legendPlaces(picture.legend, width);
	const header = MARGIN.top + 24 + (legend.length > 0 ? legend[legend.length - 1]!.y - MARGIN.top - 14 : 0);
	const footer = MARGIN.bottom + (picture.note ? 16 : 0);
	const height = heightPx ?? defaultHeight(picture) + header + footer;
	return {
		width,
		height,
		body: [header, height - footer],
		boxes: panelBoxes(picture, { left: 0, top: header, width, height: height - header - footer }),
		legend,
	};
}

function defaultHeight(picture: Picture): number {
	const n = picture.panels.length;
	if (picture.panels.some((p) => p.equalScales)) return 560;
	return n <= 1 ? 360 : n * (n === 2 ? 250 : 175);
}

function panelBoxes(picture: Picture, room: Box): Box[] {
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
function legendPlaces(entries: readonly LegendEntry[], width: number): LegendPlace[] {
	let x = MARGIN.left;
	let y = MARGIN.top + 38;
	return entries.map(({ text, look }) => {
		const sample = look.letter !== "" && look.weight !== "faint" ? 62 : 36;
		const needed = sample + text.length * 6.4 + 20;
		if (x > MARGIN.left && x + needed > width - MARGIN.right) {
			x = MARGIN.left;
			y += 20;
		}
		const place = { x, y, sample };
		x += needed;
		return place;
	});
}
