import type { Controller } from "../control/controller.ts";
import { stateSize } from "../physics/kernel-layout.ts";
import type { Layout } from "./layout.ts";
import { type Ring, slotAt } from "./ring.ts";

/** One number of a flight's state that a small signal lives in. */
export interface LiveEntry {
	/** Such as 'down', 'rollRate held', 'command 2 under way 0', 'roll controller 1'. */
	readonly name: string;
	/** Its place in the flight's flat state now. */
	readonly index: number;
}

const BODY = [
	..."north east down".split(" "),
	..."velocityNorth velocityEast velocityDown".split(" "),
	..."qw qx qy qz momentumX momentumY momentumZ".split(" "),
	..."gyroX gyroY gyroZ estimateRoll estimatePitch".split(" "),
];
const AXIS = ["roll", "pitch", "yaw"];

/**
 * Continuous state, joints that move by themselves, held readings, values under way (oldest first), the controller's linear states, published and applied
 * commands. Left out: set-points, clocks, what only limits look at.
 */
export function liveEntries(
	s: Float64Array,
	layout: Layout,
	controller: Controller,
	rotorCount: number,
	fused: boolean,
	joints: readonly (readonly [string, number])[] = [],
): LiveEntry[] {
	const out: LiveEntry[] = [];
	const put = (name: string, index: number): void => void out.push({ name, index });
	for (let i = 0; i < stateSize(rotorCount); i++)
		put(BODY[i] ?? `rotorSpeed ${i - BODY.length}`, layout.x + i);
	for (const [name, at] of joints) put(name, layout.touch + at);
	AXIS.forEach((axis, i) => {
		put(`${axis}Rate held`, layout.rates + i);
		if (i < 2) put(`${axis} held`, layout.angles + i);
		for (let k = 0; k < controller.linearOrder; k++)
			put(`${axis} controller ${k}`, layout.controller + controller.axisAt[i as 0 | 1 | 2] + k);
	});
	for (let i = 0; i < rotorCount; i++) {
		put(`command ${i} published`, layout.published + i);
		put(`command ${i} applied`, layout.applied + i);
	}
	const underWay = (ring: Ring, names: readonly string[]): void => {
		for (let count = s[ring.at]!; count < s[ring.at + 1]!; count++)
			names.forEach((name, i) => {
				if (name) put(`${name} under way ${count - s[ring.at]!}`, slotAt(ring, count) + 1 + i);
			});
	};
	const rates = AXIS.map((axis) => `${axis}Rate`);
	underWay(layout.gyroRing, fused ? rates : [...rates, "roll", "pitch"]);
	underWay(layout.attitudeRing, ["roll", "pitch"]);
	const commands = Array.from({ length: rotorCount }, (_, i) => `command ${i} to publish`);
	underWay(layout.publishRing, commands);
	layout.transportRings.forEach((ring, i) => {
		underWay(ring, [`command ${i}`]);
	});
	return out;
}
