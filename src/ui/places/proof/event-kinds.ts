/** What an event may be, in the document's words, as it is first written; every field can be changed afterwards. */
export const EVENT_KINDS: readonly {
	readonly kind: string;
	readonly title: string;
	readonly first: Readonly<Record<string, unknown>>;
	/** Fields that may be left out, shown empty with what may be typed there. */
	readonly more?: Readonly<Record<string, string>>;
}[] = [
	{ kind: "angle", title: "tilt set-point", first: { at: "0.5 s", axis: "roll", angle: "10 deg" } },
	{ kind: "rate", title: "turn-rate set-point", first: { at: "0.5 s", axis: "yaw", rate: "45 deg/s" } },
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
	{ kind: "framesLost", title: "sticks lost", first: { at: "1 s", duration: "1 s" } },
	{ kind: "servoLoad", title: "servo load", first: { at: "1 s", power: "5 W", duration: "1 s" } },
	{
		kind: "takeUp",
		title: "load taken up",
		first: { at: "1 s", mass: "100 g" },
		more: { held: "grip or frame", from: "rest or ground" },
	},
	{ kind: "letGo", title: "load let go", first: { at: "2 s" } },
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
