import type { Mark } from "./picture.ts";
import { colourOf, type Theme } from "./theme.ts";
import { element, pixels } from "./xml.ts";

type Silhouette = Extract<Mark, { readonly kind: "silhouette" }>;

const DEG = 180 / Math.PI;

/** From behind and from above a positive angle turns clockwise on the page; from the right side nose up turns the other way. */
export function silhouetteSvg(mark: Silhouette, px: number, py: number, theme: Theme): string {
	const colour = colourOf(mark.look, theme);
	const turned = (angleRad: number): string =>
		`translate(${pixels(px)} ${pixels(py)}) rotate(${((mark.view === "right" ? -1 : 1) * angleRad * DEG).toFixed(1)})`;
	const asked =
		mark.askedRad === null
			? ""
			: element("path", {
					d: mark.view === "above" ? "M0 12V-20" : "M-21 0H21",
					transform: turned(mark.askedRad),
					stroke: theme.quiet,
					"stroke-width": 1,
					"stroke-dasharray": "1 3",
					fill: "none",
				});
	const body = mark.view === "above" ? above(mark.live, colour) : upright(mark.view, mark.live, colour);
	return asked + element("g", { transform: turned(mark.angleRad) }, body);
}

const stroke = (colour: string, width: number) => ({
	stroke: colour,
	"stroke-width": width,
	"stroke-linecap": "round",
	fill: "none",
});

/** A beam on two legs with two discs seen edge on; from the side the nose is filled. */
function upright(view: "behind" | "right", live: boolean, colour: string): string {
	const discs = live ? "M-22 -5H-9M9 -5H22" : "M-15.5 -5V-4M15.5 -5V-4";
	return [
		element("path", { d: "M-15 0H15M-15.5 0V-4M15.5 0V-4", ...stroke(colour, 2.4) }),
		element("path", { d: "M-6 1L-9 9M6 1L9 9", ...stroke(colour, 1.4) }),
		element("path", { d: discs, ...stroke(colour, 1.2) }),
		view === "right"
			? element("circle", { cx: 15, cy: 0, r: 3.2, fill: colour })
			: element("circle", { cx: 0, cy: 0, r: 3.2, fill: colour }),
	].join("");
}

/** A cross of beams, nose up the page. */
function above(live: boolean, colour: string): string {
	const tips = [
		[-11, -11],
		[11, -11],
		[-11, 11],
		[11, 11],
	] as const;
	return [
		element("path", { d: "M-11 -11L11 11M11 -11L-11 11", ...stroke(colour, 2.2) }),
		element("path", { d: "M0 -3V-13", ...stroke(colour, 2.2) }),
		element("circle", { cx: 0, cy: -13, r: 3.2, fill: colour }),
		...(live ? tips.map(([cx, cy]) => element("circle", { cx, cy, r: 5, ...stroke(colour, 1) })) : []),
	].join("");
}
