import { signal } from "@preact/signals";
import type { AxisName } from "../../control/spec.ts";
import type { GainKey } from "../commands/set-gain.ts";

/** Gains that are looked at without being taken: the set with some gains of one axis changed. */
export interface Ghost {
	readonly set: string;
	readonly axis: AxisName;
	/** Internal units. */
	readonly gains: Readonly<Partial<Record<GainKey, number>>>;
	/** As people read them, such as 'kp 0.42, ki 3.1'. */
	readonly words: string;
}

/** Null: none. */
export const ghost = signal<Ghost | null>(null);
