import type { EntryField } from "./part-fields.ts";

const BODY = ["forward", "right", "down"];
const ABOUT = ["roll", "pitch", "yaw"];

/** A link of the limb, folded: where it turns and reaches. Its axis has an editor of its own, as have the parts that move with it. */
export const LINK_PLACES = {
	name: { key: "name", label: "Name", of: "text" },
	hinge: { key: "hinge", label: "Its hinge, limb folded", of: "length", parts: BODY },
	tip: { key: "tip", label: "Its far end, limb folded", of: "length", parts: BODY },
	diameter: { key: "diameter", label: "Thickness", of: "length" },
	travel: { key: "travel", label: "Turns from folded", of: "angle", parts: ["least", "most"] },
} as const satisfies Readonly<Record<string, EntryField>>;

/** Where no parts list says them. */
export const LINK_MASS: readonly EntryField[] = [
	{ key: "mass", label: "Mass", of: "mass" },
	{ key: "centreOfMass", label: "Centre of mass, limb folded", of: "length", parts: BODY },
	{
		key: "inertia",
		label: "Inertia about its own centre",
		of: "inertia",
		parts: ABOUT,
		more: ["roll-pitch (xy)", "roll-yaw (xz)", "pitch-yaw (yz)"],
	},
];

export const SERVO_FIELDS: readonly EntryField[] = [
	{ key: "servo.speed", label: "Servo's speed", of: "turnRate" },
	{ key: "servo.torque", label: "Servo's torque", of: "torque" },
	{ key: "servo.frequency", label: "Its natural frequency", of: "frequency", about: "Of small corrections." },
	{ key: "servo.damping", label: "Its damping ratio", of: "number", about: "Of small corrections." },
	{
		key: "servo.stiffness",
		label: "Stiffness between servo and link",
		of: "turnStiffness",
		otherwise: "stiff",
	},
	{ key: "servo.play", label: "Play", of: "angle", otherwise: "none", about: "Needs a stiffness." },
	{ key: "servo.jitter", label: "Jitter", of: "angle", otherwise: "none" },
	{ key: "servo.jitterFrequency", label: "Jitter's frequency", of: "frequency" },
	{ key: "servo.stallCurrent", label: "Current at full torque", of: "current" },
];
