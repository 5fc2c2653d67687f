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

/** `at`: where its numbers stand in `own`. Currents follow the torques once each step of at most a millisecond, about as often as a servo's own loop does. */
export function createServoSupply({ limb, battery, supply }: Craft, at: number): ServoSupply {
	const links = limb?.links ?? [];
	const length = links.length;
	const besides = Float64Array.of(battery.avionicsPowerW);
	const sum = (own: Float64Array): number => {
		let amperes = 0;
		for (let i = 0; i < length; i++) amperes += own[at + i]!;
		return amperes;
	};
	return {
		length,
		hold(own, torquesNm) {
			for (let i = 0; i < length; i++) own[at + i] = servoAmperes(links[i]!.servo, torquesNm[i] ?? 0);
		},
		draw(kernel, own) {
			loadElectronics(kernel, battery.resistanceOhm, besides[0]! + supply.outputV * sum(own));
		},
		besides(powerW) {
			besides[0] = powerW;
		},
		drawnIn: (own) => ({
			amperes: () => sum(own),
			most() {
				const amperes = Math.max(0, ...own.subarray(at, at + length));
				if (amperes === 0) return null;
				return { name: links[own.subarray(at, at + length).indexOf(amperes)]!.name, amperes };
			},
		}),
	};
}
