import * as vec3 from "../math/vec3.ts";
import { OWN_ARRIVAL, OWN_ARRIVED, OWN_LAST, OWN_SINCE } from "../physics/contact-law.ts";
import { groundNormal } from "../physics/ground-spec.ts";
import { bodyRates, type Kernel } from "../physics/kernel-layout.ts";
import type { Plant } from "../physics/plant.ts";
import { LEVEL_GROUND } from "./drill.ts";
import type { Ending } from "./endings.ts";
import type { FlightSetup } from "./setup.ts";
import type { Held } from "./steppers.ts";
import { aboutWords } from "./touch-names.ts";

/** A rim that comes down so long after the feet last touched did not tip over: it hit the ground. */
const TIPPING_SEC = 0.5;

/**
 * What the ground ends: a foot, an end of the limb or the load arrived faster than it may ('hitGround'); the lowest point of a rotor disc's rim touches, having tipped about the feet
 * ('tippedOver') or out of the air ('hitGround'); the airframe's middle reaches the ground. `own`: the stepper's numbers. Setting down slower ends nothing.
 */
export function createGroundEnding(
	{ craft, drill }: FlightSetup,
	built: Plant,
	{ ground, groundAt, nameOf }: Pick<Held, "ground" | "groundAt" | "nameOf">,
	own: Float64Array,
): (kernel: Kernel, plant: Plant, x: Float64Array, timeUs: number) => Ending | null {
	if (!ground) return () => null;
	const touch = own.subarray(groundAt);
	const spec = drill.ground ?? LEVEL_GROUND;
	const normal = Float64Array.from(groundNormal(spec));
	const { feetM } = craft.airframe;
	const names = built.rotors.map((_, i) => craft.rotors[i]?.place ?? `${i}`);
	const rates = new Float64Array(3);
	// Out of the ground, in body axes; height of the centre of mass; height above which nothing can touch, whatever load is taken up.
	const up = new Float64Array(5);
	const points = [...feetM, ...built.rotors.map((rotor) => rotor.positionM)];
	up[4] = 2 * Math.max(...points.map(vec3.length)) + Math.max(...built.rotors.map((rotor) => rotor.radiusM));
	return (kernel, plant, x, timeUs) => {
		const w = x[6]!;
		const i = x[7]!;
		const j = x[8]!;
		const k = x[9]!;
		const a = normal[0]!;
		const b = normal[1]!;
		const c = normal[2]!;
		if (touch[OWN_ARRIVAL]! > spec.crashMPerSec)
			return {
				status: "hitGround",
				reason: `the ${nameOf(touch[OWN_ARRIVED]!)} arrived at ${touch[OWN_ARRIVAL]!.toFixed(2)} m/s, faster than the ${spec.crashMPerSec} m/s it bears, at ${instant(timeUs)}`,
			};
		up[3] = a * x[0]! + b * x[1]! + c * x[2]!;
		if (up[3]! > up[4]!) return null;
		up[0] = (1 - 2 * (j * j + k * k)) * a + 2 * (i * j + w * k) * b + 2 * (i * k - w * j) * c;
		up[1] = 2 * (i * j - w * k) * a + (1 - 2 * (i * i + k * k)) * b + 2 * (j * k + w * i) * c;
		up[2] = 2 * (i * k + w * j) * a + 2 * (j * k - w * i) * b + (1 - 2 * (i * i + j * j)) * c;
		const middle = plant.centreOfMassM;
		for (let r = 0; r < plant.rotors.length; r++) {
			const { positionM, axis, radiusM } = plant.rotors[r]!;
			const along = up[0]! * axis[0] + up[1]! * axis[1] + up[2]! * axis[2];
			const hub =
				up[3]! +
				up[0]! * (positionM[0] - middle[0]) +
				up[1]! * (positionM[1] - middle[1]) +
				up[2]! * (positionM[2] - middle[2]);
			if (hub > radiusM * Math.sqrt(Math.max(0, 1 - along * along))) continue;
			const tilt = ((Math.acos(Math.min(1, -up[2]!)) * 180) / Math.PI).toFixed(0);
			if (touch[OWN_SINCE]! < TIPPING_SEC)
				return {
					status: "tippedOver",
					reason: `tipped over about ${aboutWords(feetM, touch[OWN_LAST]!, nameOf)}: the ${names[r]} propeller touched the ground at ${tilt} degrees to it at ${instant(timeUs)}`,
				};
			bodyRates(kernel, x, rates);
			const down = -(a * x[3]! + b * x[4]! + c * x[5]!);
			return {
				status: "hitGround",
				reason: `the ${names[r]} propeller struck the ground, ${tilt} degrees to it, sinking at ${down.toFixed(2)} m/s, at ${instant(timeUs)}`,
			};
		}
		const origin = up[3]! - up[0]! * middle[0] - up[1]! * middle[1] - up[2]! * middle[2];
		if (origin <= 0)
			return {
				status: "hitGround",
				reason: `the airframe reached the ground, sinking at ${x[5]!.toFixed(2)} m/s, at ${instant(timeUs)}`,
			};
		return null;
	};
}

const instant = (timeUs: number): string => `${(timeUs * 1e-6).toFixed(3)} s`;
