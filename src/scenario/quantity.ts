import { z } from "zod";
import { formatQuantity } from "../units/format.ts";
import { KINDS, type KindName } from "../units/kinds.ts";
import { expectation, parseQuantity } from "../units/parse.ts";

/** What a number may be at all; beyond it the value is impossible, or beyond what this model is for. */
interface Bounds {
	readonly above?: number;
	readonly atLeast?: number;
	readonly atMost?: number;
}

const BOUNDS: Readonly<Record<KindName, Bounds>> = {
	mass: { above: 0, atMost: 1000 },
	length: { atLeast: -100, atMost: 100 },
	time: { atLeast: 0, atMost: 3600 },
	period: { atLeast: 20e-6, atMost: 1 },
	frequency: { above: 0, atMost: 1e5 },
	force: { atLeast: -1e5, atMost: 1e5 },
	torque: { atLeast: -1e4, atMost: 1e4 },
	angle: { atLeast: -2 * Math.PI, atMost: 2 * Math.PI },
	turnRate: { atLeast: -1e5, atMost: 1e5 },
	rotorSpeed: { atLeast: 0, atMost: 1e5 },
	speed: { atLeast: -100, atMost: 100 },
	voltage: { above: 0, atMost: 1000 },
	current: { atLeast: 0, atMost: 1e4 },
	charge: { above: 0, atMost: 1e4 },
	resistance: { atLeast: 0, atMost: 100 },
	power: { atLeast: 0, atMost: 1e6 },
	density: { atLeast: 0.2, atMost: 5 },
	temperature: { atLeast: 180, atMost: 340 },
	area: { atLeast: 0, atMost: 100 },
	inertia: { atLeast: -1e4, atMost: 1e4 },
	thrustCoefficient: { above: 0, atMost: 1 },
	torqueCoefficient: { above: 0, atMost: 1 },
	inflowCoefficient: { atLeast: 0, atMost: 10 },
	noiseDensity: { atLeast: 0, atMost: 10 },
	springRate: { above: 0, atMost: 1e6 },
	springDamping: { atLeast: 0, atMost: 1e5 },
	turnFriction: { atLeast: 0, atMost: 1e3 },
	turnStiffness: { above: 0, atMost: 1e6 },
	fraction: { atLeast: 0, atMost: 1 },
};

/** A number in SI or a string with a unit, within what is possible. */
export function quantity(name: KindName, narrower: Bounds = {}, about = "") {
	const bounds = { ...BOUNDS[name], ...narrower };
	const expected = `${expectation(name)}${describeBounds(name, bounds)}`;
	return z
		.union([z.number(), z.string()], { error: expected })
		.meta({ description: about === "" ? expected : `${about}: ${expected}` })
		.transform((input, context) => {
			const read = parseQuantity(name, input);
			if (!read.ok) return refuse(context, expected, read.hint);
			if (isWithin(read.value, bounds)) return read.value;
			return refuse(context, expected, boundHint(name, input, read.value, bounds));
		});
}

/** For `transform`: a custom issue whose message is what was expected; `hint` goes along. */
function refuse(context: z.RefinementCtx, expected: string, hint: string): never {
	context.addIssue({ code: "custom", message: expected, params: { hint } });
	return z.NEVER;
}

function isWithin(value: number, { above, atLeast, atMost }: Bounds): boolean {
	return (
		(above === undefined || value > above) &&
		(atLeast === undefined || value >= atLeast) &&
		(atMost === undefined || value <= atMost)
	);
}

function describeBounds(name: KindName, { above, atLeast, atMost }: Bounds): string {
	const say = (value: number): string => (name === "fraction" ? String(value) : formatQuantity(name, value));
	if (above !== undefined && atMost !== undefined) return `, above ${say(above)} and at most ${say(atMost)}`;
	if (above !== undefined) return `, above ${say(above)}`;
	return `, ${say(atLeast ?? Number.NEGATIVE_INFINITY)} to ${say(atMost ?? Number.POSITIVE_INFINITY)}`;
}

function boundHint(name: KindName, input: unknown, value: number, bounds: Bounds): string {
	const unit = KINDS[name].unit;
	if (typeof input === "number" && value > 0 && unit !== "1") {
		if (name === "period") return `a bare number is seconds; write "${input} Hz" if it is a rate`;
		if (name === "temperature") return `a bare number is kelvin; write "${input} degC" for Celsius`;
		return `a bare number is ${unit}; write the unit, such as "${KINDS[name].example}"`;
	}
	if (value <= (bounds.above ?? Number.NEGATIVE_INFINITY)) return "the sign or the zero cannot be right";
	return "";
}

/** Three quantities of a kind: forward, right, down in body axes, or north, east, down. */
export function triple(name: KindName, about: string, narrower: Bounds = {}) {
	const one = quantity(name, narrower);
	const expected = `three of ${KINDS[name].noun}: [x, y, z]`;
	return z.tuple([one, one, one], { error: expected }).meta({ description: about });
}

/** A plain number without a unit. */
export function plain(about: string, bounds: Bounds = {}) {
	const { above, atLeast, atMost } = bounds;
	const parts = [
		above === undefined ? "" : ` above ${above}`,
		atLeast === undefined ? "" : ` of at least ${atLeast}`,
		atMost === undefined ? "" : ` of at most ${atMost}`,
	].filter((part) => part !== "");
	const expected = `a number${parts.join(" and")}`;
	let schema = z.number({ error: expected });
	if (above !== undefined) schema = schema.gt(above, { error: expected });
	if (atLeast !== undefined) schema = schema.gte(atLeast, { error: expected });
	schema = schema.lte(atMost ?? 1e9, { error: atMost === undefined ? "a number of at most 1e9" : expected });
	if (above === undefined && atLeast === undefined)
		schema = schema.gte(-1e9, { error: "a number of at least -1e9" });
	return schema.meta({ description: `${about}: ${expected}` });
}

export function whole(about: string, atLeast: number, atMost: number) {
	const expected = `a whole number from ${atLeast} to ${atMost}`;
	return z
		.number({ error: expected })
		.int({ error: expected })
		.gte(atLeast, { error: expected })
		.lte(atMost, { error: expected })
		.meta({ description: about });
}

export function yesNo(about: string) {
	return z.boolean({ error: "true or false" }).meta({ description: about });
}

export function words<const T extends readonly [string, ...string[]]>(about: string, options: T) {
	return z
		.enum(options, { error: `one of ${options.map((o) => `"${o}"`).join(", ")}` })
		.meta({ description: about });
}

/** A name that paths can hold. */
export const nameText = z.string({ error: "a name in quotes" }).regex(/^(?=\s*\S)[^.[\]]{1,80}$/, {
	error: "a name of 1 to 80 characters, not only blanks, without dots and square brackets",
});

export const freeText = z
	.string({ error: "text in quotes" })
	.max(4000, { error: "text of at most 4000 characters" });

export function list<T extends z.ZodType>(item: T, about: string, least = 0, most = 200) {
	const expected = `a list of ${least} to ${most} entries`;
	return z
		.array(item, { error: `${expected} in square brackets` })
		.min(least, { error: expected })
		.max(most, { error: expected })
		.meta({ description: about });
}

export function section<T extends z.ZodRawShape>(shape: T, about = "") {
	const schema = z.strictObject(shape, {
		error: (issue) => (issue.code === "invalid_type" ? "a group in curly brackets" : undefined),
	});
	return about === "" ? schema : schema.meta({ description: about });
}
