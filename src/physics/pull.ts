import { curveSpeed } from "../craft/speed-curve.ts";
import type { Plant } from "./plant.ts";

/** Steady rotors on a sagging battery with the craft standing still. */
export interface Pull {
	/** Along -z of the body, N. */
	readonly liftN: number;
	readonly voltageV: number;
	readonly powerW: number;
	/** The battery has no steady voltage at this load. */
	readonly brownOut: boolean;
	/** Most that the battery can give at all: V0^2 / 4R. */
	readonly mostPowerW: number;
}

/** Lift with these commands. Voltage and speed settle together: halving the voltage always finds the higher of the two balances. */
export function pullAt(plant: Plant, commands: ArrayLike<number>): Pull {
	const at = (volts: number) => pullAtVoltage(plant, commands, volts);
	// Open-circuit voltage less drop less voltage falls with voltage: one balance.
	const miss = (v: number): number => plant.openCircuitV - (plant.resistanceOhm * at(v).powerW) / v - v;
	let low = 0.5 * plant.openCircuitV;
	let high = plant.openCircuitV;
	const brownOut = miss(low) < 0;
	for (let i = 0; i < 60 && !brownOut; i++) {
		const middle = (low + high) / 2;
		if (miss(middle) > 0) low = middle;
		else high = middle;
	}
	const { liftN, powerW } = at(low);
	const mostPowerW = plant.openCircuitV ** 2 / (4 * plant.resistanceOhm);
	return { liftN, voltageV: low, powerW, brownOut, mostPowerW };
}

/** Lift and electrical power with the battery held at a voltage. */
export function pullAtVoltage(
	plant: Plant,
	commands: ArrayLike<number>,
	volts: number,
): { liftN: number; powerW: number } {
	let liftN = 0;
	let shaft = 0;
	plant.rotors.forEach((rotor, i) => {
		const w =
			(volts / plant.curve.referenceVoltageV) * curveSpeed(plant.curve, commands[i]!) * rotor.speedFactor;
		liftN -= rotor.thrustCoefficient * w * w * rotor.axis[2];
		shaft += rotor.torqueCoefficient * w ** 3;
	});
	return { liftN, powerW: shaft / plant.efficiency + plant.avionicsPowerW };
}

export const fullCommands = (plant: Plant): Float64Array => new Float64Array(plant.rotors.length).fill(1);
