import type { Craft } from "../craft/model.ts";
import type { TuneOptions, TuneResult } from "./result.ts";

/** Starting gains of a craft: docs/tuning.md. Deterministic. */
export function tune(craft: Craft, options: TuneOptions): TuneResult {
	throw new Error(`tune: not written yet (${craft.name}, ${options.character})`);
}
