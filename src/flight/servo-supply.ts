import type { LimbLink } from "../craft/limb-model.ts";
import type { Craft } from "../craft/model.ts";
import { servoAmperes } from "../craft/servo-current.ts";
import { type Kernel, loadElectronics } from "../physics/kernel-layout.ts";
import type { DrawnByServos } from "./endings.ts";

/** What a limb's servos take from the electronics supply in a flight, and through it from the battery: one number per link in the flight's state. */
export interface ServoSupply {
	/** How many numbers. */
	readonly length: number;
	/** Currents of servos that give these torques, into `own`. Allocates nothing. */
	hold(own: Float64Array, torquesNm: ArrayLike<number>): void;
	/** Makes the kernel's battery carry the currents in `own`. Allocates nothing. */
	draw(kernel: Kernel, own: Float64Array): void;
	/** From here on this much besides the servos, W. */
	besides(powerW: number): void;
	/** The same currents, as an ending reads them. */
	drawnIn(own: Float64Array): DrawnByServos;
}

/** Servos that hold these torques throughout, their current among the plant's electronics. */
export function servosHolding({ limb }: Craft, torquesNm: readonly number[]): DrawnByServos {
	const links = limb?.links ?? [];
	const most = mostOf(
		links,
		torquesNm.map((torque, i) => servoAmperes(links[i]!.servo, torque)),
	);
	return { readAmperes: (out) => out.fill(0), most: () => most };
}

function mostOf(links: readonly LimbLink[], amperes: readonly number[]): ReturnType<DrawnByServos["most"]> {
	const most = Math.max(0, ...amperes);
	return most > 0 ? { name: links[amperes.indexOf(most)]!.name, amperes: most } : null;
}

/** `at`: where its numbers stand in `own`. Currents follow the torques once each step of at most a millisecond, about as often as a servo's own loop does. */
export function createServoSupply({ limb, battery, supply }: Craft, at: number): ServoSupply {
	const links = limb?.links ?? [];
	const length = links.length;
	const besides = Float64Array.of(battery.avionicsPowerW);
	/** Of all servos, A. A number given back would be allocated. */
	const sum = new Float64Array(1);
	const addUp = (own: Float64Array, into: Float64Array): void => {
		into[0] = 0;
		for (let i = 0; i < length; i++) into[0]! += own[at + i]!;
	};
	return {
		length,
		hold(own, torquesNm) {
			for (let i = 0; i < length; i++) own[at + i] = servoAmperes(links[i]!.servo, torquesNm[i] ?? 0);
		},
		draw(kernel, own) {
			addUp(own, sum);
			loadElectronics(kernel, battery.resistanceOhm, besides[0]! + supply.outputV * sum[0]!);
		},
		besides(powerW) {
			besides[0] = powerW;
		},
		drawnIn: (own) => ({
			readAmperes: (out) => addUp(own, out),
			most: () => mostOf(links, Array.from(own.subarray(at, at + length))),
		}),
	};
}
