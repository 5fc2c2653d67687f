import { formatQuantity } from "../units/format.ts";
import type { KindName } from "../units/kinds.ts";
import type { Assumption } from "./model.ts";

/** A value that cannot be right. */
export interface Problem {
	readonly path: string;
	readonly value: unknown;
	readonly expected: string;
	readonly hint: string;
}

/** A possible but odd value. */
export interface OddValue {
	readonly path: string;
	readonly sentence: string;
}

export const COMMON = "common practice, no source";

/** What resolving a craft has to say besides its numbers. */
export class Notes {
	readonly assumed: Assumption[] = [];
	readonly problems: Problem[] = [];

	copy(): Notes {
		const notes = new Notes();
		notes.assumed.push(...this.assumed);
		notes.problems.push(...this.problems);
		return notes;
	}

	/** `given` where there is one; else `value`, written down as an assumption. */
	assume(
		given: number | undefined,
		kind: KindName,
		entry: Omit<Assumption, "value"> & { value: number },
	): number {
		if (given !== undefined) return given;
		this.assumed.push({ ...entry, value: formatQuantity(kind, entry.value) });
		return entry.value;
	}

	/** The same for anything that is not one number. */
	assumeWord<T>(given: T | undefined, value: T, entry: Assumption): T {
		if (given !== undefined) return given;
		this.assumed.push(entry);
		return value;
	}

	problem(path: string, value: unknown, expected: string, hint = ""): void {
		this.problems.push({ path, value, expected, hint });
	}
}
