import type { Craft } from "../../../craft/model.ts";

interface EventKind {
	readonly kind: string;
	readonly title: string;
	readonly first: Readonly<Record<string, unknown>>;
	/** Fields that may be left out, shown empty with what may be typed there. */
	readonly more?: Readonly<Record<string, string>>;
}

/** What an event may be on this craft, in the document's words, as it is first written; every field can be changed afterwards. */
export function eventKinds({ limb }: Craft): EventKind[] {
	if (!limb) return EVENT_KINDS.filter(({ kind }) => !LIMB_KINDS.includes(kind));
	const link = limb.links[0]!.name;
	return EVENT_KINDS.map((each) =>
		each.kind === "limb" ? { ...each, first: { ...each.first, link } } : each,
	);
}

const LIMB_KINDS: readonly string[] = ["limb", "stuckGrip"];

const EVENT_KINDS: readonly EventKind[] = [
	{ kind: "angle", title: "tilt set-point", first: { at: "0.5 s", axis: "roll", angle: "10 deg" } },
	{ kind: "rate", title: "turn-rate set-point", first: { at: "0.5 s", axis: "yaw", rate: "45 deg/s" } },
	{
		kind: "stick",
		title: "stick moved",
		first: { at: "0.5 s", axis: "roll", reading: "1600 us" },
	},
	{ kind: "height", title: "height kept by hand", first: { at: 0, height: "3 m", by: "pilot" } },
	{ kind: "leaveThrottle", title: "throttle left where it is", first: { at: "2 s" } },
	{ kind: "throttle", title: "throttle", first: { at: "0.5 s", throttle: { ofHover: 1.1 } } },
	{
		kind: "torque",
		title: "push that turns it",
		first: { at: "0.5 s", torque: ["0.2 N m", 0, 0], duration: "50 ms" },
	},
	{
		kind: "force",
		title: "push that shoves it",
		first: { at: "0.5 s", force: [0, "2 N", 0], duration: "200 ms" },
	},
	{ kind: "stall", title: "loop stops", first: { at: "0.6 s", duration: "100 ms" } },
	{
		kind: "looseLoop",
		title: "loop gets loose",
		first: { at: "0.5 s", jitter: "500 us", skipChance: "20 %", duration: "1 s" },
	},
	{ kind: "frozen", title: "sensor freezes", first: { at: "0.6 s", sensor: "gyro", duration: "150 ms" } },
	{
		kind: "glitch",
		title: "gyro glitch",
		first: { at: "0.6 s", sensor: "gyro", axis: "roll", rate: "60 deg/s", duration: "10 ms" },
	},
	{
		kind: "attitudeGlitch",
		title: "attitude glitch",
		first: { at: "0.6 s", axis: "roll", angle: "10 deg", duration: "50 ms" },
	},
	{ kind: "stuckFoot", title: "foot stuck", first: { at: 0, foot: 0, hold: "5 N" } },
	{ kind: "framesLost", title: "sticks lost", first: { at: "1 s", duration: "1 s" } },
	{ kind: "servoLoad", title: "servo load", first: { at: "1 s", power: "5 W", duration: "1 s" } },
	{
		kind: "takeUp",
		title: "load taken up",
		first: { at: "1 s", mass: "100 g" },
		more: { held: "grip or frame", from: "rest or ground" },
	},
	{
		kind: "letGo",
		title: "load let go",
		first: { at: "2 s" },
		more: { unnoticed: "true: the firmware goes on as if it carried it" },
	},
	{
		kind: "limb",
		title: "limb moved",
		first: { at: "0.5 s", link: "", angle: "20 deg" },
		more: { over: "evenly in so long, such as 2 s" },
	},
	{
		kind: "stuckGrip",
		title: "grip stuck",
		first: { at: "1 s", duration: "1 s" },
		more: { stiffness: "such as 300 N/m", damping: "such as 10 N s/m" },
	},
	{ kind: "makeLive", title: "motors made live", first: { at: "0.2 s" } },
	{ kind: "makeSafe", title: "motors made safe", first: { at: "2 s" } },
];

/** Fields of a written event with what each holds (undefined: left out) and what may be typed there. */
export function eventFields(
	event: Readonly<Record<string, unknown>>,
): { readonly key: string; readonly value: unknown; readonly about: string }[] {
	const more = EVENT_KINDS.find(({ kind }) => kind === event["kind"])?.more ?? {};
	const written = Object.keys(event).filter((key) => key !== "kind");
	const empty = Object.keys(more).filter((key) => !(key in event));
	return [...written, ...empty].map((key) => ({ key, value: event[key], about: more[key] ?? "" }));
}

/** What was typed into an event's field: numbers and lists as JSON, everything else as the text it is. */
export function eventValue(typed: string): unknown {
	const text = typed.trim();
	if (text === "") return undefined;
	try {
		const value: unknown = JSON.parse(text);
		return value;
	} catch {
		return text;
	}
}

export const shownValue = (value: unknown): string =>
	typeof value === "string" ? value : JSON.stringify(value);
