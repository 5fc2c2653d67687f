import { HOVER_RULES } from "./finding-hover.ts";
import { MARGIN_RULES } from "./finding-margins.ts";
import { ROTOR_RULES } from "./finding-rotors.ts";
import type { Rule } from "./finding-rule.ts";
import { SAFETY_RULES } from "./finding-safety.ts";
import { TIMING_RULES } from "./finding-timing.ts";

/** Every finding comes from this table; its limits are common practice without source unless a line says otherwise. */
export const RULES: readonly Rule[] = [
	...HOVER_RULES,
	...ROTOR_RULES,
	...TIMING_RULES,
	...MARGIN_RULES,
	...SAFETY_RULES,
];
