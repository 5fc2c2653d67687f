import { IN } from "../control/signals.ts";
import type { Layout } from "./layout.ts";

/** What the controller reads at a tick, out of the flight's state; spacing and voltage are the caller's. Allocates nothing. */
export function readInputs(layout: Layout, s: Float64Array, input: Float64Array): void {
	for (let i = 0; i < 3; i++) {
		input[IN.angleSetPoint + i] = s[layout.angleSetPoint + i]!;
		input[IN.rateSetPoint + i] = s[layout.rateSetPoint + i]!;
		input[IN.angle + i] = s[layout.angles + i]!;
		input[IN.rate + i] = s[layout.rates + i]!;
	}
	input[IN.throttle] = s[layout.throttle]!;
	input[IN.lifted] = s[layout.lifted]!;
	input[IN.live] = s[layout.live]!;
}
