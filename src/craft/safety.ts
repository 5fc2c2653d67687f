import { formatQuantity } from "../units/format.ts";
import type { SafetyInput, SupplyInput } from "./input.ts";
import type { Battery, Safety, Supply } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";

const LOST_AFTER_SEC = 0.5;

/** What the firmware does on signal loss and when motors are made live; home-written code often does nothing, so that is the default. */
export function resolveSafety(input: SafetyInput | undefined, notes: Notes): Safety {
	const after = notes.assume(input?.signalLostAfter, "time", {
		path: "craft.safety.signalLostAfter",
		value: LOST_AFTER_SEC,
		because: "receivers and firmware count a signal as lost after about that long",
		source: COMMON,
		measure: "propellers off: switch the transmitter off and time what your code does",
	});
	return {
		signalLostAfterUs: Math.round(after * 1e6),
		onSignalLoss: notes.assumeWord(input?.onSignalLoss, "keep" as const, {
			path: "craft.safety.onSignalLoss",
			value: "keep: flies on with its last sticks",
			because: "nothing was said, and code that does not ask for the age of a frame does that",
			source: COMMON,
			measure: "propellers off: switch the transmitter off and watch what the motors are told",
		}),
		liveBelowThrottle: input?.liveBelowThrottle ?? null,
		liveBelowTiltRad: input?.liveBelowTilt ?? null,
	};
}

const PLAIN: Supply = { outputV: 5, dropoutV: 0.5, limitA: 3, brownOutV: 4.3 };
/** For a battery that cannot hold 5 V. */
const LOW: Supply = { outputV: 3.3, dropoutV: 0.2, limitA: 1, brownOutV: 2.8 };

/** Defaults that what was given does not overload: 5 V where the battery's own brown-out leaves it, and twice the electronics' current. */
export function resolveSupply(input: SupplyInput | undefined, battery: Battery, notes: Notes): Supply {
	const plain = battery.brownOutV - PLAIN.dropoutV >= PLAIN.brownOutV ? PLAIN : LOW;
	const outputV = input?.output ?? plain.outputV;
	const supply: Supply = {
		outputV,
		dropoutV: input?.dropout ?? plain.dropoutV,
		limitA: input?.limit ?? Math.max(plain.limitA, Math.ceil((2 * battery.avionicsPowerW) / outputV)),
		brownOutV: input?.brownOut ?? Math.min(plain.brownOutV, 0.86 * outputV),
	};
	const missing = (["output", "dropout", "limit", "brownOut"] as const).filter(
		(key) => input?.[key] === undefined,
	);
	if (missing.length > 0) {
		const said = {
			output: formatQuantity("voltage", supply.outputV),
			dropout: `${formatQuantity("voltage", supply.dropoutV)} of dropout`,
			limit: formatQuantity("current", supply.limitA),
			brownOut: `restart below ${formatQuantity("voltage", supply.brownOutV)}`,
		};
		notes.assumeWord(undefined, 0, {
			path: "craft.supply",
			value: missing.map((key) => said[key]).join(", "),
			because: "a common regulator for controller, receiver and small servos",
			source: COMMON,
			measure: "its sheet; its output on a meter while every servo is held against its load",
		});
	}
	if (supply.brownOutV >= supply.outputV)
		notes.problem("craft.supply.brownOut", input?.brownOut, `below the output's ${supply.outputV} V`);
	return supply;
}
