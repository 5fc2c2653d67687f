import type { Craft, OperatingPoint } from "../craft/model.ts";
import { PERSON, type Person, personFor } from "../flight/pilot.ts";
import * as polynomial from "../math/polynomial.ts";
import { type Heave, heaveAt } from "../physics/heave.ts";
import { hoverTrim } from "./hover.ts";
import { mixerOf } from "./linearise.ts";
import { analyseLoopFromTransferFunction, type TransferLoop } from "./scalar-loop-transfer.ts";
import type { ScalarLoopResult } from "./scalar-loop-types.ts";
import { timingChain, transportUs } from "./timing-chain.ts";

/** Height kept by a person at the throttle of a craft, opened at the throttle. */
export interface HandLoop {
	readonly person: Person;
	readonly heave: Heave;
	/** From the hand's movement to the motors: mean wait for a receiver frame and a tick, then as in every loop. */
	readonly chainSec: number;
	readonly margins: ScalarLoopResult;
}

/** At hover, whatever throttle the point names; a reason where it cannot hover. */
export function handLoop(craft: Craft, point: OperatingPoint): HandLoop | string {
	const { plant, result } = hoverTrim(craft, point);
	if (!result.feasible) return result.reason;
	const { timing } = craft;
	const chain = timingChain(timing);
	const waitUs = 0.5 * (timing.receiver.periodUs + chain.tickUs);
	const chainSec = chain.holdAge.meanSec + 1e-6 * (waitUs + transportUs(timing.pulse, result.trim.throttle));
	const heave = heaveAt(plant, mixerOf(craft), result.trim);
	const person = personFor(heave);
	return {
		person,
		heave,
		chainSec,
		margins: analyseLoopFromTransferFunction(personTimesCraft(person, heave, chainSec)),
	};
}

/** Y_p Y_c of flight/pilot.ts and physics/heave.ts. The 10 ms that a stick held for 20 ms costs, stepping the lag early wins back. */
export function personTimesCraft(person: Person, heave: Heave, chainSec: number): TransferLoop {
	const product = (...factors: number[][]): number[] => factors.reduce(polynomial.multiply);
	return {
		num: product([person.gain * heave.slope], [person.leadSec, 1], [1, PERSON.trimPerSec]),
		den: product([1, 0], [1, 0], [1, heave.dampingPerSec], [heave.lagSec, 1], [PERSON.lagSec, 1]),
		delaySec: PERSON.delaySec + chainSec,
	};
}
