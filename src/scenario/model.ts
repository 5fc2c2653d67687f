import type { GainSet } from "../control/spec.ts";
import type { PartInput } from "../craft/input.ts";
import type { MassOrigin } from "../craft/mass-from-input.ts";
import type { Assumption, Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import type { FirmwareUnits } from "../handover/firmware-units.ts";

/** A scenario file, read and complete. */
export interface Scenario {
	/** The file as it stands, untouched: what is saved again. Paths of assumptions and warnings point into it. */
	readonly document: unknown;
	readonly name: string;
	/** A free remark of the author; empty where none was given. */
	readonly note: string;
	/** Where published numbers were printed; null for a craft of one's own. */
	readonly citation: string | null;
	readonly craft: Craft;
	readonly operatingPoints: readonly NamedPoint[];
	readonly gainSets: readonly GainSet[];
	readonly drills: readonly Drill[];
	readonly firmware: FirmwareUnits;
	/** Limits that the file changes, by character; empty where it changes none. */
	readonly tuning: TuningChanges;
	/** Where mass, centre of mass and inertia come from, part by part. */
	readonly massOrigin: MassOrigin;
	/** The parts list as numbers, as far as it goes; empty without one. */
	readonly parts: readonly PartInput[];
	/** Every value that the file did not give, in the order of the file. */
	readonly assumed: readonly Assumption[];
	/** Possible but odd values, one sentence each. */
	readonly warnings: readonly ScenarioWarning[];
}

export interface NamedPoint {
	readonly name: string;
	readonly point: OperatingPoint;
}

export type TuningChanges = {
	readonly [character in "gentle" | "even" | "lively"]?: { readonly [limit: string]: number };
};

export interface ScenarioError {
	/** Such as `craft.motors.lag` or `gainSets[1].roll.kp`; empty for the file as a whole. */
	readonly path: string;
	/** The value as written, shortened. */
	readonly value: string;
	readonly expected: string;
	/** The nearest known key or another way out; empty where there is none. */
	readonly hint: string;
	/** All of it as one sentence for people. */
	readonly message: string;
}

interface ScenarioWarning {
	/** A unit that was read another way than it stands there, or a value that is possible but odd. */
	readonly kind: "unit" | "odd";
	readonly path: string;
	readonly sentence: string;
}

export type LoadResult =
	| { readonly ok: true; readonly scenario: Scenario }
	| { readonly ok: false; readonly errors: readonly ScenarioError[] };
