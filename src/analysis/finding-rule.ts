import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Plant } from "../physics/plant.ts";
import type { Pull } from "../physics/pull.ts";
import type { Trim } from "../physics/trim.ts";
import type { Finding, HoverReport } from "./craft-report-types.ts";
import type { MarginsBrief } from "./report-types.ts";

/** What the rules look at. */
export interface Facts {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly plant: Plant;
	readonly trim: Trim | null;
	readonly whyNoHover: string;
	readonly hover: HoverReport | null;
	/** Full throttle, nearly empty, at this load. */
	readonly worstPull: Pull;
	/** Hover corners that cannot be flown, by name with reason. */
	readonly lostCorners: readonly { readonly name: string; readonly reason: string }[];
	/** With a gain set at hand. */
	readonly margins: MarginsBrief | null;
}

export interface Judgement {
	readonly level: Finding["level"];
	readonly sentence: string;
	readonly reason: string;
}

export interface Rule {
	readonly name: string;
	/** Null where the rule has nothing to say. */
	judge(facts: Facts): Judgement | null;
}

export const say = (level: Finding["level"], sentence: string, reason: string): Judgement => ({
	level,
	sentence,
	reason,
});
export const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
export const fixed = (value: number, digits = 2): string => value.toFixed(digits);
export const ms = (us: number): string => `${Number((us / 1000).toPrecision(4))} ms`;
/** Behind every limit but those whose line says otherwise. */
export const PRACTICE = "common practice, no source";
