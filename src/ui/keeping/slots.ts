import type { PageState } from "../state/model.ts";

/** The part of the browser's storage that is used; a Map-like stand-in serves tests. */
export interface Shelf {
	getItem(key: string): string | null;
	setItem(key: string, value: string): void;
	removeItem(key: string): void;
	key(index: number): string | null;
	readonly length: number;
}

/** One scenario kept in this browser. Each tab writes to a slot of its own, so that two tabs lose nothing to each other. */
export interface Kept {
	readonly slot: string;
	/** Milliseconds since 1970. */
	readonly savedAt: number;
	readonly name: string;
	readonly state: PageState;
}

const PREFIX = "levelhead.kept.";
const FORMAT = 1;
/** Older ones beyond so many are dropped. */
const SLOTS = 12;

/** Everything kept, newest first; what cannot be read is passed over, not deleted. */
export function keptScenarios(shelf: Shelf): Kept[] {
	const found: Kept[] = [];
	for (let i = 0; i < shelf.length; i++) {
		const key = shelf.key(i);
		if (!key?.startsWith(PREFIX)) continue;
		const kept = read(shelf.getItem(key), key.slice(PREFIX.length));
		if (kept) found.push(kept);
	}
	return found.sort((a, b) => b.savedAt - a.savedAt);
}

function read(text: string | null, slot: string): Kept | null {
	try {
		const kept = JSON.parse(text ?? "") as {
			format: number;
			savedAt: number;
			name: string;
			state: PageState;
		};
		if (kept.format !== FORMAT || typeof kept.state.document !== "object" || kept.state.document === null)
			return null;
		return { slot, savedAt: kept.savedAt, name: kept.name, state: kept.state };
	} catch {
		return null;
	}
}

/** Writes a slot. @returns why it could not be kept; empty when it was. */
export function keep(shelf: Shelf, slot: string, state: PageState, name: string, now: number): string {
	const text = JSON.stringify({ format: FORMAT, savedAt: now, name, state });
	for (let dropped = 0; ; dropped++) {
		try {
			shelf.setItem(PREFIX + slot, text);
			break;
		} catch (error) {
			const oldest = keptScenarios(shelf)
				.filter((each) => each.slot !== slot)
				.at(-1);
			// Room is made only by what is older than the newest few.
			if (!oldest || keptScenarios(shelf).length <= 4 || dropped > SLOTS)
				return error instanceof Error && error.name === "QuotaExceededError"
					? "This browser's storage is full: save the scenario as a file."
					: "This browser refuses to keep anything: save the scenario as a file.";
			shelf.removeItem(PREFIX + oldest.slot);
		}
	}
	for (const old of keptScenarios(shelf).slice(SLOTS)) shelf.removeItem(PREFIX + old.slot);
	return "";
}

export function forget(shelf: Shelf, slot: string): void {
	shelf.removeItem(PREFIX + slot);
}
