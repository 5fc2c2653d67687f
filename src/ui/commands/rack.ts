import { withGainSet } from "../../scenario/gain-set-document.ts";
import type { Command, PageState, ScenarioDocument } from "../state/model.ts";

type SetDocument = Readonly<Record<string, unknown>> & { readonly name: string };

/** How many stand in the rack, lettered A to F. */
const PLACES = 6;

export function setsOf(state: PageState): readonly SetDocument[] {
	return (state.document["gainSets"] ?? []) as readonly SetDocument[];
}

const withSets = (state: PageState, gainSets: readonly unknown[]): ScenarioDocument => ({
	...state.document,
	gainSets,
});

function found(state: PageState, name: string): SetDocument {
	const set = setsOf(state).find((each) => each.name === name);
	if (!set) throw new RangeError(`no gain set '${name}' in the rack`);
	return set;
}

/** The first of A to F that no set is named. */
export function freeName(state: PageState): string {
	const taken = new Set(setsOf(state).map((each) => each.name));
	const free = [..."ABCDEF"].find((letter) => !taken.has(letter));
	if (!free) throw new RangeError("the rack is full: six sets, A to F; take one out first");
	return free;
}

/** A copy of a set beside it, worked on from now on. */
export function copySet(name: string): Command {
	return {
		name: `copy set ${name}`,
		apply(state) {
			const set = found(state, name);
			const copy = freeName(state);
			return {
				document: withSets(state, [
					...setsOf(state),
					{ ...set, name: copy, note: `Began as a copy of ${name}.` },
				]),
				view: {
					...state.view,
					set: copy,
					shown: [...new Set([...state.view.shown, name])],
					base: state.view.base || name,
				},
			};
		},
	};
}

/** A finished set into the rack: over the one that has its name, else beside the others. */
export function putSet(
	set: Record<string, unknown> & { readonly name: string },
	what = `set ${set.name}`,
): Command {
	return {
		name: what,
		apply(state) {
			if (setsOf(state).length >= PLACES && !setsOf(state).some((each) => each.name === set.name))
				throw new RangeError("the rack is full: six sets, A to F; take one out first");
			const document = withGainSet(state.document, set) as ScenarioDocument;
			return { document, view: { ...state.view, set: set.name } };
		},
	};
}

export function removeSet(name: string): Command {
	return {
		name: `take out set ${name}`,
		apply(state) {
			found(state, name);
			const rest = setsOf(state).filter((each) => each.name !== name);
			const shown = state.view.shown.filter((each) => each !== name);
			return { document: withSets(state, rest), view: { ...state.view, shown } };
		},
	};
}

export function renameSet(name: string, to: string): Command {
	return {
		name: `name set ${name} ${to}`,
		apply(state) {
			found(state, name);
			const wanted = to.trim();
			if (wanted === name) return state;
			if (wanted === "") throw new RangeError("a gain set needs a name");
			if (setsOf(state).some((each) => each.name === wanted))
				throw new RangeError(`another set is named '${wanted}'`);
			const swap = (each: string): string => (each === name ? wanted : each);
			return {
				document: withSets(
					state,
					setsOf(state).map((each) => (each.name === name ? { ...each, name: wanted } : each)),
				),
				view: {
					...state.view,
					set: swap(state.view.set),
					base: swap(state.view.base),
					shown: state.view.shown.map(swap),
				},
			};
		},
	};
}

/** Overlays a set in every picture, or no longer. */
export function toggleShown(name: string): Command {
	return {
		name: `show set ${name}`,
		apply(state) {
			found(state, name);
			const { shown } = state.view;
			const after = shown.includes(name) ? shown.filter((each) => each !== name) : [...shown, name];
			return { ...state, view: { ...state.view, shown: after } };
		},
	};
}
