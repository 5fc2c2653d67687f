import { KINDS, type Kind, type KindName } from "./kinds.ts";
import { type Dimensions, readUnit, type Unit } from "./unit-expression.ts";

/** A quantity as read: SI (radians; ampere hours for a capacity), or what was expected instead. */
export type ParsedQuantity =
	| { readonly ok: true; readonly value: number; readonly remark: string }
	| { readonly ok: false; readonly expected: string; readonly hint: string };

/** Standard gravity, m/s^2 (ISO 80000-3): the weight of a mass given where a force is expected. */
const GRAVITY = 9.80665;

const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*)$/;

/** Ways people write a unit that the unit parser does not read. */
const SPELLINGS: readonly (readonly [RegExp, string])[] = [
	[/[°º]\s*C\b/g, "degC"],
	[/[°º]\s*F\b/g, "degF"],
	[/[°º]/g, "deg"],
	[/[µμ]/g, "u"],
	[/[ΩΩ]/g, "ohm"],
	[/·|⋅/g, " "],
	[/²/g, "^2"],
	[/³/g, "^3"],
	[/\bsqrt\(Hz\)|√Hz/g, "Hz^0.5"],
	[/\bNm\b/g, "N m"],
	[/\bmNm\b/g, "mN m"],
	[/\bkgm\^2/g, "kg m^2"],
	[/\bdps\b/g, "deg/s"],
	[/\bRPM\b/g, "rpm"],
	[/"$/g, "in"],
];

const HINTS: Readonly<Record<string, string>> = {
	kt: "'kt' could be kilotonnes or knots; write a speed in knots as 'm/s' (1 knot is 0.514444 m/s)",
	knot: "write a speed in knots as 'm/s' (1 knot is 0.514444 m/s)",
	knots: "write a speed in knots as 'm/s' (1 knot is 0.514444 m/s)",
	S: "cells are counted in 'battery.cells'",
	kv: "a motor's speed per volt is not used; give 'maxThrust' or a bench table",
};

/** How a person is told what would be right: a noun, an example, and what a bare number means. */
export function expectation(name: KindName): string {
	const { noun, unit, example } = KINDS[name];
	const bare = unit === "1" ? "a number 0 to 1" : `a bare number is ${unit}`;
	return `${noun} such as "${example}" (${bare})`;
}

/**
 * Reads a number (already in the kind's unit) or a string with a unit. Never throws on bad input; a finite number
 * or a reason.
 */
export function parseQuantity(name: KindName, input: unknown): ParsedQuantity {
	const fail = (hint = ""): ParsedQuantity => ({ ok: false, expected: expectation(name), hint });
	if (typeof input === "number")
		return Number.isFinite(input)
			? { ok: true, value: input, remark: "" }
			: fail("the number must be finite");
	if (typeof input !== "string") return fail();
	const match = NUMBER.exec(input.trim());
	if (!match) return fail(/^[+-]?\d+,\d/.test(input.trim()) ? "write the decimal mark as a point" : "");
	const number = Number(match[1]);
	if (!Number.isFinite(number)) return fail("the number must be finite");
	const unit = match[2]!.trim();
	if (/^,\d/.test(unit)) return fail("write the decimal mark as a point");
	if (unit === "") return fail("a string needs a unit; a bare number goes without quotes");
	if (name === "fraction") return unit === "%" ? { ok: true, value: number / 100, remark: "" } : fail();
	return convert(KINDS[name], name, number, unit, fail);
}

function convert(
	kind: Kind,
	name: KindName,
	number: number,
	unitText: string,
	fail: (hint?: string) => ParsedQuantity,
): ParsedQuantity {
	const unit = unitText.length > 60 ? null : remembered(spelled(unitText));
	if (unit === null) return fail(HINTS[unitText] ?? `the unit '${shorten(unitText)}' is not known`);
	const like = kind.like.find((text) => sameDimensions(unit.dimensions, remembered(text)!.dimensions, kind));
	if (like === undefined) return fail(wrongDimension(kind, unitText));
	const si = scaled(number + unit.offset, unit.factor);
	if (!Number.isFinite(si)) return fail("the number must be finite");
	if (name === "charge") return { ok: true, value: si / 3600, remark: "" };
	if (name === "period" && like === "Hz")
		return si > 0 ? { ok: true, value: 1 / si, remark: "" } : fail("a rate must be above 0");
	if (name === "force" && like === "kg") {
		const newton = si * GRAVITY;
		return {
			ok: true,
			value: newton,
			remark: `'${number} ${unitText}' is read as the weight of that mass, ${Number(newton.toPrecision(4))} N`,
		};
	}
	return { ok: true, value: si, remark: "" };
}

const spelled = (text: string): string => SPELLINGS.reduce((all, [from, to]) => all.replace(from, to), text);
const shorten = (text: string): string => (text.length > 30 ? `${text.slice(0, 30)}...` : text);

/** 700 g is 0.7 kg to the last digit: a thousandth is a division by 1000, which rounds once. */
function scaled(number: number, factor: number): number {
	const inverse = Math.round(1 / factor);
	return factor < 1 && Math.abs(inverse * factor - 1) < 1e-15 ? number / inverse : number * factor;
}

/** A file uses few units many times, a sweep the same file many times. */
const memory = new Map<string, Unit | null>();

function remembered(text: string): Unit | null {
	const known = memory.get(text);
	if (known !== undefined) return known;
	if (memory.size > 500) memory.clear();
	const unit = readUnit(text);
	memory.set(text, unit);
	return unit;
}

const ANGLE = 5;

function sameDimensions(a: Dimensions, b: Dimensions, kind: Kind): boolean {
	return a.every((power, i) => (kind.angleFree && i === ANGLE) || Math.abs(power - b[i]!) < 1e-9);
}

function wrongDimension(kind: Kind, unitText: string): string {
	if (kind.unit === "rad/s" && /Hz|^1?\/s/.test(unitText))
		return `'${unitText}' does not say an angle; write 'deg/s', 'rad/s' or 'rpm'`;
	if (kind.unit === "Hz" && /rpm|rad/.test(unitText)) return `'${unitText}' is a turn rate; write 'Hz'`;
	return `'${unitText}' is not the unit of ${kind.noun}`;
}
