/** A scenario document as it is saved: JSON, never changed in place. */
export type ScenarioDocument = { readonly [key: string]: unknown };

export type Place = "craft" | "gains" | "proof" | "field";
export type AxisChoice = "roll" | "pitch" | "yaw";

/** What is looked at: names of things in the document. A name that is gone falls back to the first. */
export interface View {
	readonly place: Place;
	/** The gain set that is worked on. */
	readonly set: string;
	/** Sets that pictures overlay, besides the one worked on. */
	readonly shown: readonly string[];
	/** The set that differences are taken from. */
	readonly base: string;
	readonly point: string;
	readonly drill: string;
	readonly axis: AxisChoice;
	/** Under 'show the proof'. */
	readonly proofOpen: boolean;
}

/** All that the page works on, plain data: what commands change, what is saved, what undo goes back through. */
export interface PageState {
	readonly document: ScenarioDocument;
	readonly view: View;
}

/** One thing that a user does. */
export interface Command {
	/** As undo says it: 'kp of set A', 'add drill'. */
	readonly name: string;
	/** Commands in a row with the same `joins` are one step of undo, as while dragging. */
	readonly joins?: string;
	/** Same object back: nothing changed. Throws RangeError with a plain sentence where it cannot be done. */
	apply(state: PageState): PageState;
}
