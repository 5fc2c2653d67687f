import type { GainSet } from "../control/spec.ts";
import { stickSetPoint, throttleFromStick } from "../control/sticks.ts";
import type { Craft } from "../craft/model.ts";
import type { Layout } from "./layout.ts";
import { askedSign, type Wiring } from "./wiring.ts";

export const AXIS_INDEX = { roll: 0, pitch: 1, yaw: 2, throttle: 3 } as const;

/** Raw readings that wait for the next receiver frame. */
export interface StickInput {
	move(axis: keyof typeof AXIS_INDEX, readingUs: number): void;
	/** A receiver frame: what moved becomes set-points. */
	receive(s: Float64Array): void;
}

export function createStickInput(
	craft: Craft,
	structure: GainSet["structure"],
	layout: Layout,
	wired: { readonly wiring?: Wiring } = {},
): StickInput {
	const { sticks } = craft;
	const readings = new Float64Array(4).fill(Number.NaN);
	const rateOnly = structure === "rateOnly";
	const [rollSign, pitchSign, yawSign] = [0, 1, 2].map((axis) => askedSign(wired, axis)) as [
		number,
		number,
		number,
	];
	const full = rateOnly ? sticks.fullTiltRateRadPerSec : sticks.fullTiltRad;
	const at = rateOnly ? layout.rateSetPoint : layout.angleSetPoint;
	const moved = (i: number): boolean => !Number.isNaN(readings[i]!);
	return {
		move(axis, readingUs) {
			readings[AXIS_INDEX[axis]] = readingUs;
		},
		receive(s) {
			if (moved(0)) s[at] = rollSign * stickSetPoint(sticks.roll, readings[0]!, full);
			if (moved(1)) s[at + 1] = pitchSign * stickSetPoint(sticks.pitch, readings[1]!, full);
			if (moved(2))
				s[layout.rateSetPoint + 2] =
					yawSign * stickSetPoint(sticks.yaw, readings[2]!, sticks.fullTurnRateRadPerSec);
			if (moved(3)) s[layout.throttle] = throttleFromStick(sticks.throttle, readings[3]!);
			readings.fill(Number.NaN);
		},
	};
}
