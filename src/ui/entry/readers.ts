import { formatQuantity } from "../../units/format.ts";
import type { KindName } from "../../units/kinds.ts";
import { nudged, readTyped, shownQuantity, unitOf } from "./typed.ts";

/** What someone typed, as the document takes it. */
type Entered =
	/** `shown`: as the field then says it. `remark`: how it was understood, where that is worth saying; else empty. */
	| { readonly ok: true; readonly written: unknown; readonly shown: string; readonly remark: string }
	| { readonly ok: false; readonly expected: string; readonly hint: string };

/** How one kind of value is typed and shown. */
export interface Reader {
	/** `before`: what stood in the field, or beside it: a bare number takes its unit. */
	read(text: string, before: string): Entered;
	/** `like`: what stands beside, for the unit of a plain 0. */
	show(value: unknown, like?: string): string;
	/** The text so many arrow keys further; null where arrows mean nothing. */
	readonly nudge: ((text: string, steps: number) => string) | null;
}

/** A number with a unit, or one word of the document such as 'none'. */
export function quantityReader(kind: KindName, word = ""): Reader {
	return {
		read(text, before) {
			if (word !== "" && text.trim().toLowerCase() === word)
				return { ok: true, written: word, shown: word, remark: "" };
			const read = readTyped(kind, text, before);
			if (read.ok) return { ok: true, written: read.text, shown: read.text, remark: read.remark };
			return word === "" ? read : { ...read, expected: `${read.expected}, or '${word}'` };
		},
		show(value, like = "") {
			if (value !== 0) return shownQuantity(kind, value);
			const unit = unitOf(like);
			return unit === "" ? formatQuantity(kind, 0) : `0 ${unit}`;
		},
		nudge: nudgedFromZero,
	};
}

const SMALL_UNITS = new Set(["mm", "deg", "g", "%", "ms", "us"]);

/** From nothing, one whole small unit: there is no size yet that a step could be a share of. */
function nudgedFromZero(text: string, steps: number): string {
	const unit = unitOf(text);
	return Number.parseFloat(text) === 0 && SMALL_UNITS.has(unit) ? `${steps} ${unit}` : nudged(text, steps);
}

const decimal = (text: string): number => {
	const plain = text.trim().replace(/^([+-]?\d+),(\d+)$/, "$1.$2");
	return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
};
const shownNumber = (value: unknown): string =>
	typeof value === "number" || typeof value === "string" ? String(value) : "";

/** A number without a unit. */
export const NUMBER: Reader = {
	read(text) {
		const value = decimal(text);
		if (!Number.isFinite(value)) return { ok: false, expected: "a number without a unit", hint: "" };
		return { ok: true, written: value, shown: String(value), remark: "" };
	},
	show: shownNumber,
	nudge: nudged,
};

export const WHOLE: Reader = {
	read(text) {
		const value = decimal(text);
		if (!Number.isInteger(value)) return { ok: false, expected: "a whole number", hint: "" };
		return { ok: true, written: value, shown: String(value), remark: "" };
	},
	show: shownNumber,
	nudge(text, steps) {
		const value = decimal(text);
		return Number.isInteger(value) ? String(value + steps) : text;
	},
};

export const TEXT: Reader = {
	read: (text) => ({ ok: true, written: text.trim(), shown: text.trim(), remark: "" }),
	show: (value) => (typeof value === "string" ? value : ""),
	nudge: null,
};
