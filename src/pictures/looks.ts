import type { Axis, Look } from "./picture.ts";

/** Where a gain set stands in the rack, 'A' to 'F', and its name. */
export interface NamedSet {
	readonly letter: string;
	readonly name: string;
}

/** What every picture says about itself. */
export interface PictureHead {
	readonly title: string;
	readonly note?: string;
	readonly invented: boolean;
}

export const setLook = (letter: string): Look => ({ letter, weight: "strong", dash: "set" });
export const faintLook = (letter: string): Look => ({ letter, weight: "faint", dash: "solid" });
export const INK: Look = { letter: "", weight: "plain", dash: "solid" };
export const DOTTED: Look = { letter: "", weight: "plain", dash: "dotted" };

export function axis(label: string, unit: string, change: Partial<Axis> = {}): Axis {
	return { label, unit, scale: "linear", range: null, tickStep: null, ...change };
}

/** 'A, B and C' */
export function listed(names: readonly string[]): string {
	if (names.length < 2) return names.join("");
	return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

export function signed(value: number, decimals: number): string {
	return value.toFixed(decimals).replace("-", "\u2212");
}
