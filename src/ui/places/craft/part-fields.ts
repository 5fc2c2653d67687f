import type { PartInput } from "../../../craft/input.ts";
import type { KindName } from "../../../units/kinds.ts";

/** One value of a part or a rotor, by its key; a triple stands in three fields side by side. */
export interface EntryField {
	readonly key: string;
	readonly label: string;
	readonly of: KindName | "number" | "whole" | "text";
	readonly about?: string;
	/** What each of several numbers is. */
	readonly parts?: readonly string[];
	/** Further ones that may be written. */
	readonly more?: readonly string[];
	readonly otherwise?: string;
}

type Shape = PartInput["shape"];

/** What each shape is in words, and the sizes that it has besides what every part has. */
export const SHAPES: Readonly<
	Record<Shape, { readonly words: string; readonly sizes: readonly EntryField[] }>
> = {
	point: { words: "point: small against the craft", sizes: [] },
	box: {
		words: "box",
		sizes: [{ key: "size", label: "Edges along its own", of: "length", parts: ["x", "y", "z"] }],
	},
	cylinder: {
		words: "cylinder, solid, along its own z",
		sizes: [
			{ key: "diameter", label: "Diameter", of: "length" },
			{ key: "length", label: "Length", of: "length" },
		],
	},
	rod: {
		words: "rod, thin, along its own x",
		sizes: [{ key: "length", label: "Length", of: "length" }],
	},
	tube: {
		words: "tube, hollow, along its own x",
		sizes: [
			{ key: "outerDiameter", label: "Diameter outside", of: "length" },
			{ key: "innerDiameter", label: "Diameter inside", of: "length" },
			{ key: "length", label: "Length", of: "length" },
		],
	},
};

export const PART_FIELDS = {
	name: { key: "name", label: "Name", of: "text" },
	mass: { key: "mass", label: "Mass of one", of: "mass" },
	position: { key: "position", label: "Its middle", of: "length", parts: ["forward", "right", "down"] },
	orientation: {
		key: "orientation",
		label: "Turned by",
		of: "angle",
		parts: ["roll", "pitch", "yaw"],
	},
} as const satisfies Readonly<Record<string, EntryField>>;

export const ROTOR_FIELDS: readonly EntryField[] = [
	{ key: "place", label: "Place", of: "text", about: "Such as 'front right'." },
	{ key: "motor", label: "Your motor number", of: "whole" },
	{ key: "position", label: "Its hub", of: "length", parts: ["forward", "right", "down"] },
	{ key: "tiltForward", label: "Thrust tilted forward", of: "angle", otherwise: "0 deg" },
	{ key: "tiltRight", label: "Thrust tilted right", of: "angle", otherwise: "0 deg" },
	{
		key: "speedFactor",
		label: "Its speed over the others'",
		of: "number",
		otherwise: "1",
		about: "A motor that turns 3 % slower at the same command has 0.97.",
	},
];

export const BENCH_COLUMNS = [
	{ key: "command", label: "command", of: "fraction" },
	{ key: "thrust", label: "thrust", of: "force" },
	{ key: "speed", label: "speed", of: "rotorSpeed", optional: true },
	{ key: "torque", label: "torque", of: "torque", optional: true },
	{ key: "voltage", label: "voltage", of: "voltage", optional: true },
	{ key: "current", label: "current", of: "current", optional: true },
] as const;
