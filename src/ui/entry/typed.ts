import { formatQuantity } from "../../units/format.ts";
import { KINDS, type KindName } from "../../units/kinds.ts";
import { parseQuantity } from "../../units/parse.ts";

/** What someone typed into a field, made ready for the document. */
export type Typed =
	/** `text` as it is kept: with its unit. `remark`: how it was understood, where that is worth saying; else empty. */
	| { readonly ok: true; readonly text: string; readonly value: number; readonly remark: string }
	| { readonly ok: false; readonly expected: string; readonly hint: string };

const NUMBER_AND_UNIT = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*?)\s*$/;

/** Number and unit of a text; null where it does not begin with a number. */
function splitQuantity(text: string): { readonly number: number; readonly unit: string } | null {
	const match = NUMBER_AND_UNIT.exec(text);
	return match ? { number: Number(match[1]), unit: match[2]! } : null;
}

/** Of a text such as '450 mm'; empty where there is none. */
export const unitOf = (text: string): string => splitQuantity(text)?.unit ?? "";

/** Several in one line, a unit that they share once: '184, 184, -40 mm'. */
export function sideBySide(texts: readonly string[]): string {
	const parts = texts.map(splitQuantity);
	const unit = parts[0]?.unit ?? "";
	if (!parts.every((each) => each !== null && each.unit === unit)) return texts.join(", ");
	return `${parts.map((each) => each!.number).join(", ")} ${unit}`.trim();
}

/**
 * Reads typed text. A bare number takes the unit that stood in the field before: '450' over '520 mm' is 450 mm. A comma is read as the
 * decimal mark where nothing else can be meant.
 */
export function readTyped(kind: KindName, typed: string, before: string): Typed {
	const text = /^\s*[+-]?\d+,\d+(?!\d*,)/.test(typed) ? typed.replace(",", ".") : typed;
	const parts = splitQuantity(text);
	const unitBefore = unitOf(before);
	const complete =
		parts && parts.unit === "" && unitBefore !== "" ? `${parts.number} ${unitBefore}` : text.trim();
	const read = parseQuantity(kind, complete);
	if (!read.ok)
		return parts && unitOf(complete) === ""
			? { ...read, hint: `write the unit, such as '${KINDS[kind].example}'` }
			: read;
	const understood = complete === text.trim() ? "" : `read as ${complete}`;
	return {
		ok: true,
		text: complete,
		value: read.value,
		remark: [understood, read.remark].filter(Boolean).join("; "),
	};
}

/** A document's value as the field shows it: text stays as typed, a plain number gets a unit that people read. */
export function shownQuantity(kind: KindName, value: unknown): string {
	if (typeof value === "string") return value;
	if (typeof value === "number") return formatQuantity(kind, value, 6);
	return "";
}

/** The text with its number moved by `steps` of one or two per cent, to a round place; the unit stays: '520 mm' by 1 is '525 mm'. */
export function nudged(text: string, steps: number): string {
	const parts = splitQuantity(text);
	if (!parts) return text;
	const size = Math.abs(parts.number);
	const place = size > 0 ? 10 ** (Math.floor(Math.log10(size)) - 2) : 0.01;
	const step = size / place < 250 ? place : size / place < 600 ? 5 * place : 10 * place;
	const moved = Math.round((parts.number + steps * step) / place) * place;
	const number = Number(moved.toPrecision(12));
	return parts.unit ? `${number} ${parts.unit}` : String(number);
}
