import type { FieldGroup } from "./craft-field.ts";
import { AIR } from "./groups/air.ts";
import { AIRFRAME } from "./groups/airframe.ts";
import { BATTERY } from "./groups/battery.ts";
import { FIRMWARE } from "./groups/firmware.ts";
import { LIMB_GROUP } from "./groups/limb.ts";
import { ROTORS } from "./groups/rotors.ts";
import { TIMING } from "./groups/timing.ts";

/** Every field of a craft, grouped as a builder thinks. */
export const FIELD_GROUPS: readonly FieldGroup[] = [
	AIRFRAME,
	ROTORS,
	LIMB_GROUP,
	BATTERY,
	TIMING,
	FIRMWARE,
	AIR,
];
