import type { Look } from "./picture.ts";

export interface Theme {
	readonly paper: string;
	readonly ink: string;
	readonly quiet: string;
	readonly grid: string;
	/** Gain sets A to F: Okabe and Ito's colour-blind-safe palette (Color Universal Design, 2008; from memory). */
	readonly sets: readonly string[];
	/** Field shades from little to much. */
	readonly shades: readonly [string, string];
	/** Field cells below the outline. */
	readonly below: string;
}

export const THEMES: { readonly light: Theme; readonly dark: Theme } = {
	light: {
		paper: "#fbfaf6",
		ink: "#2a2926",
		quiet: "#6a665d",
		grid: "#e6e2d8",
		sets: ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#56b4e9"],
		shades: ["#e9eeea", "#3f7f86"],
		below: "#efebe2",
	},
	dark: {
		paper: "#1c1e1f",
		ink: "#e8e5dc",
		quiet: "#a5a196",
		grid: "#33373a",
		sets: ["#56b4e9", "#d55e00", "#009e73", "#cc79a7", "#e69f00", "#f0e442"],
		shades: ["#26302f", "#5aa7a5"],
		below: "#232424",
	},
};

const DASHES = ["", "9 4", "2.5 3.5", "11 3 2.5 3", "5 3", "13 3 2.5 3 2.5 3"];

export function colourOf(look: Look, theme: Theme): string {
	return look.letter === "" ? theme.ink : (theme.sets[setIndex(look.letter)] ?? theme.ink);
}

/** Stroke attributes of a line. */
export function strokeOf(look: Look, theme: Theme): Record<string, string | number> {
	const dash =
		look.dash === "dotted"
			? "1 4"
			: look.dash === "set" && look.letter !== ""
				? DASHES[setIndex(look.letter)]!
				: "";
	return {
		fill: "none",
		stroke: colourOf(look, theme),
		"stroke-width": look.weight === "strong" ? 2 : look.weight === "plain" ? 1.25 : 1,
		"stroke-linejoin": "round",
		"stroke-linecap": look.dash === "dotted" ? "round" : "butt",
		...(look.weight === "faint" ? { "stroke-opacity": "0.18" } : {}),
		...(dash ? { "stroke-dasharray": dash } : {}),
	};
}

/** Place of a gain set in the rack: A is 0; anything past F comes round again. */
export function setIndex(letter: string): number {
	const index = letter.charCodeAt(0) - 65;
	return index >= 0 && index < 26 ? index % 6 : 0;
}

/** A colour between the shades; share 0..1. */
export function shade(theme: Theme, share: number): string {
	const [a, b] = theme.shades.map((hex) => Number.parseInt(hex.slice(1), 16)) as [number, number];
	const mixed = [16, 8, 0].map((shift) => {
		const from = (a >> shift) & 255;
		return Math.round(from + (((b >> shift) & 255) - from) * share)
			.toString(16)
			.padStart(2, "0");
	});
	return `#${mixed.join("")}`;
}
