import type { Command, PageState, ScenarioDocument } from "../state/model.ts";

type DrillDocument = Readonly<Record<string, unknown>> & { readonly name: string };

/** What is written in the document; a scenario without a list flies plain drills that stand nowhere. */
export function drillsOf(state: PageState): readonly DrillDocument[] {
	return (state.document["drills"] ?? []) as readonly DrillDocument[];
}

const withDrills = (state: PageState, drills: readonly unknown[]): ScenarioDocument => ({
	...state.document,
	drills,
});

function freeName(state: PageState, wanted: string): string {
	const taken = new Set(drillsOf(state).map((each) => each.name));
	if (!taken.has(wanted)) return wanted;
	for (let k = 2; ; k++) if (!taken.has(`${wanted} ${k}`)) return `${wanted} ${k}`;
}

/** A drill of one's own: written beside those of the file, and chosen. */
export function addDrill(name: string): Command {
	return {
		name: `new drill ${name}`,
		apply(state) {
			const own = freeName(state, name.trim() || "my drill");
			const drill = { name: own, duration: "3 s", height: "10 m", events: [] };
			return {
				document: withDrills(state, [...drillsOf(state), drill]),
				view: { ...state.view, drill: own },
			};
		},
	};
}

/** A copy of a written drill, to change. */
export function copyDrill(name: string): Command {
	return {
		name: `copy drill ${name}`,
		apply(state) {
			const from = drillsOf(state).find((each) => each.name === name);
			if (!from)
				throw new RangeError(
					`'${name}' is a plain drill of every craft: it stands in no file, so begin a new one`,
				);
			const own = freeName(state, `${name}, mine`);
			return {
				document: withDrills(state, [...drillsOf(state), { ...from, name: own }]),
				view: { ...state.view, drill: own },
			};
		},
	};
}

export function removeDrill(name: string): Command {
	return {
		name: `take out drill ${name}`,
		apply(state) {
			const rest = drillsOf(state).filter((each) => each.name !== name);
			if (rest.length === drillsOf(state).length)
				throw new RangeError(`no drill '${name}' is written in the scenario`);
			const { drills: _, ...others } = state.document;
			return { ...state, document: rest.length > 0 ? withDrills(state, rest) : others };
		},
	};
}

/** One field of a drill, such as its duration; undefined takes it out. */
export function setDrillField(name: string, key: string, value: unknown): Command {
	return {
		name: `${key} of drill ${name}`,
		apply: (state) => ({
			...state,
			document: withDrills(
				state,
				drillsOf(state).map((each) => (each.name === name ? { ...each, [key]: value } : each)),
			),
		}),
	};
}

const eventsOf = (drill: DrillDocument): readonly Readonly<Record<string, unknown>>[] =>
	(drill["events"] ?? []) as readonly Readonly<Record<string, unknown>>[];

function changeEvents(
	state: PageState,
	name: string,
	change: (events: readonly Readonly<Record<string, unknown>>[]) => readonly unknown[],
): PageState {
	const drills = drillsOf(state).map((each) =>
		each.name === name ? { ...each, events: change(eventsOf(each)) } : each,
	);
	return { ...state, document: withDrills(state, drills) };
}

export function addEvent(name: string, event: Readonly<Record<string, unknown>>): Command {
	return {
		name: `add ${String(event["kind"])} to ${name}`,
		apply: (state) => changeEvents(state, name, (events) => [...events, event]),
	};
}

export function removeEvent(name: string, index: number): Command {
	return {
		name: `take an event out of ${name}`,
		apply: (state) => changeEvents(state, name, (events) => events.filter((_, i) => i !== index)),
	};
}

export function setEventField(name: string, index: number, key: string, value: unknown): Command {
	return {
		name: `${key} of an event of ${name}`,
		apply: (state) =>
			changeEvents(state, name, (events) =>
				events.map((each, i) => (i === index ? { ...each, [key]: value } : each)),
			),
	};
}
