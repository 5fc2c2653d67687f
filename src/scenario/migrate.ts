import { CURRENT_VERSION } from "./schema.ts";

type Group = { readonly [key: string]: unknown };

const isGroup = (value: unknown): value is Group =>
	value !== null && typeof value === "object" && !Array.isArray(value);

/**
 * Version 1 to 2: gain sets were a group by name, now a list with names; `craft.timing.loopRate` is `loop`;
 * `craft.motors.staticThrust` is `maxThrust`. Everything else stands.
 */
function fromVersion1(document: Group): Group {
	const { gainSets, craft } = document;
	return {
		...document,
		levelhead: 2,
		...(isGroup(craft) && {
			craft: {
				...craft,
				...(isGroup(craft.timing) && { timing: rename(craft.timing, "loopRate", "loop") }),
				...(isGroup(craft.motors) && { motors: rename(craft.motors, "staticThrust", "maxThrust") }),
			},
		}),
		...(isGroup(gainSets) && {
			gainSets: Object.entries(gainSets).map(([name, set]) => (isGroup(set) ? { name, ...set } : set)),
		}),
	};
}

/** Keeps the order of the keys. */
function rename(group: Group, from: string, to: string): Group {
	return Object.fromEntries(Object.entries(group).map(([key, value]) => [key === from ? to : key, value]));
}

const STEPS: { readonly [version: number]: (document: Group) => Group } = { 1: fromVersion1 };

/** The document in the current version; anything that is not a group of a known older version is left alone. */
export function migrate(document: unknown): unknown {
	let current = document;
	while (isGroup(current)) {
		const { levelhead } = current;
		const step: ((document: Group) => Group) | undefined =
			typeof levelhead === "number" && levelhead < CURRENT_VERSION && Object.hasOwn(STEPS, levelhead)
				? STEPS[levelhead]
				: undefined;
		if (step === undefined) return current;
		current = step(current);
	}
	return current;
}
