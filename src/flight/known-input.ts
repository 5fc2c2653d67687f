import { IN } from "../control/signals.ts";
import { poseAt } from "../physics/plant-at.ts";
import type { LimbFlight } from "./limb-flight.ts";
import { createLimbLead } from "./limb-lead.ts";
import { KNOWN } from "./load-known.ts";
import type { FlightSetup } from "./setup.ts";
import type { Start } from "./start.ts";

/**
 * What the firmware knows of its limb and its load at a tick, for gains that follow them and for what is fed forward. It is taken to know how its servos move. Allocates nothing.
 * @param known what it takes for carried (`KNOWN`)
 * @param own the limb's own numbers, the hinges' angles first
 */
export function createKnownInput(
	setup: FlightSetup,
	start: Start,
	limb: LimbFlight | null,
	known: Float64Array,
	own: Float64Array,
): (input: Float64Array) => void {
	const { craft, point, gainSet } = setup;
	const lead = createLimbLead(setup, start, limb, known);
	const hinge = gainSet.schedule?.link ?? 0;
	const moves = limb !== null && craft.limb !== undefined;
	const still = Float64Array.of(poseAt(craft, point)[hinge] ?? 0);
	return (input) => {
		input[IN.limbAngle] = moves ? own[hinge]! : still[0]!;
		input[IN.load] = known[KNOWN.massKg]!;
		lead?.(input);
	};
}
