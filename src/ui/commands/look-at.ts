import type { Command, View } from "../state/model.ts";

/** Looks elsewhere: another place, set, operating point, drill, axis. No step of undo. */
export function lookAt(change: Partial<View>): Command {
	return { name: "look elsewhere", apply: (state) => ({ ...state, view: { ...state.view, ...change } }) };
}
