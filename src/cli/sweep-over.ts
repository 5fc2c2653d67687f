import type { SweepAxis } from "../tuning/sweep.ts";
import { BadInput } from "./errors.ts";
import { parseNumber } from "./values.ts";

/** One `--over`: what is swept and the unit that its values are written with in the file. */
export interface Over extends SweepAxis {
	/** Empty: plain numbers. */
	readonly unit: string;
}

const EXAMPLE =
	"Such as --over craft.mass=1.5..2.5:11, --over 'craft.mass=1500..2500:11 g' or --over gainSets.A.roll.kp=0.05,0.1,0.2";
const MOST = 100_000;
const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`;
const WHOLE = new RegExp(
	`^(${NUMBER}(?:\\s*,\\s*${NUMBER})*|${NUMBER}\\s*\\.\\.\\s*${NUMBER}\\s*:\\s*${NUMBER})\\s*([a-zA-Z%].*)?$`,
);

/** PATH=FROM..TO:COUNT or PATH=A,B,C, then a unit where the numbers are not plain. */
export function parseOver(text: string): Over {
	const bad = (what: string) => new BadInput(`--over '${text}': ${what}`, EXAMPLE);
	const equals = text.indexOf("=");
	const path = text.slice(0, Math.max(0, equals)).trim();
	if (path === "") throw bad("expected PATH=FROM..TO:COUNT or PATH=A,B,C");
	const rest = text.slice(equals + 1).trim();
	// What cannot be read is cut where a letter begins, so that the message can name the part.
	const [, body = "", unit = ""] = WHOLE.exec(rest) ?? /^([^a-zA-Z%]*)(.*)$/.exec(rest) ?? [];
	if (body === "") throw bad("expected numbers behind '='");
	const range = /^(.+?)\.\.(.+):(.+)$/.exec(body);
	if (!range) {
		if (body.includes("..")) throw bad("how many values? A range ends in ':COUNT'");
		const values = body.split(",").map((part) => number(part, bad));
		return { path, values, unit };
	}
	const [from, to, count] = [number(range[1]!, bad), number(range[2]!, bad), number(range[3]!, bad)];
	if (!Number.isInteger(count) || count < 1 || count > MOST)
		throw bad(`count ${count}: expected a whole number from 1 to ${MOST}`);
	if (count === 1 && from !== to) throw bad("one value cannot reach from one end to the other");
	const values = Array.from({ length: count }, (_, i) =>
		// Both ends exactly as typed; twelve digits in between, so that no '0.30000000000000004' is printed.
		i === 0 ? from : i === count - 1 ? to : Number((from + ((to - from) * i) / (count - 1)).toPrecision(12)),
	);
	return { path, values, unit };
}

function number(text: string, bad: (what: string) => BadInput): number {
	const value = parseNumber(text);
	if (value === null) throw bad(`'${text.trim()}' is not a number`);
	return value;
}
