import { createMixer, type Mixer, type MixerGeometry } from "../control/mixer.ts";
import { type Craft, NOMINAL_POINT } from "../craft/model.ts";
import { curveSlope, curveSpeed } from "../craft/speed-curve.ts";
import { AIR_SIZE } from "./kernel-layout.ts";
import type { Plant } from "./plant.ts";
import { plantAt } from "./plant-at.ts";
import { solveTrim } from "./trim-solver.ts";

const FAR_FROM_GROUND_M = 1000;

/**
 * The craft's mixer: its own table, or the pseudo-inverse at the bare craft's hover slopes, nominal battery. The slopes
 * start from equal thrust shares and are taken again at the trim that the first table gives; a craft that cannot hover
 * keeps the first.
 */
export function craftMixer(craft: Craft): Mixer {
	const plant = plantAt(craft, NOMINAL_POINT);
	const share = equalShareSpeeds(plant);
	const first = createMixer(craft.mixer, geometryAt(craft, plant, share.speeds, share.commands));
	if (craft.mixer.table) return first;
	const result = solveTrim({
		plant,
		mixer: first,
		lowestSpin: craft.mixer.lowestSpin,
		rotorPlaces: craft.rotors.map((r) => r.place),
		throttle: "hover",
		heightM: FAR_FROM_GROUND_M,
		air: new Float64Array(AIR_SIZE),
	});
	if (!result.feasible) return first;
	const { speedsRadPerSec, commands } = result.trim;
	return createMixer(craft.mixer, geometryAt(craft, plant, speedsRadPerSec, commands));
}

function geometryAt(
	craft: Craft,
	plant: Plant,
	speeds: ArrayLike<number>,
	commands: ArrayLike<number>,
): MixerGeometry {
	return {
		centreOfMassM: craft.bare.centreOfMassM,
		referenceVoltageV: plant.curve.referenceVoltageV,
		rotors: plant.rotors.map((rotor, i) => {
			const speedSlope = curveSlope(plant.curve, commands[i]!) * rotor.speedFactor;
			return {
				positionM: rotor.positionM,
				axis: rotor.axis,
				spin: rotor.spin,
				thrustSlope: 2 * rotor.thrustCoefficient * speeds[i]! * speedSlope,
				torqueSlope: 2 * rotor.torqueCoefficient * speeds[i]! * speedSlope,
			};
		}),
	};
}

/** Every rotor at the same command, carrying the weight if it can. */
function equalShareSpeeds(plant: Plant): { speeds: number[]; commands: number[] } {
	const weight = plant.massKg * plant.gravityMPerSec2;
	const speedsAt = (c: number): number[] =>
		plant.rotors.map((rotor) => curveSpeed(plant.curve, c) * rotor.speedFactor);
	let low = plant.curve.commands[0]!;
	let high = 1;
	for (let i = 0; i < 50; i++) {
		const middle = (low + high) / 2;
		const lift = plant.rotors.reduce((sum, rotor, k) => {
			const w = speedsAt(middle)[k]!;
			return sum - rotor.thrustCoefficient * w * w * rotor.axis[2];
		}, 0);
		if (lift < weight) low = middle;
		else high = middle;
	}
	return { speeds: speedsAt(high), commands: plant.rotors.map(() => high) };
}
