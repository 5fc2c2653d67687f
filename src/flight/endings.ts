import type { Supply } from "../craft/model.ts";
import { batteryVoltage, bodyRates, type Kernel, WORK_BROWN_OUT } from "../physics/kernel-layout.ts";
import type { Plant } from "../physics/plant.ts";
import type { FlightStatus } from "./result.ts";

const FASTEST_RATE = 200;
const FASTEST_SPEED = 300;

export interface Ending {
	readonly status: FlightStatus;
	readonly reason: string;
}

/** What the limb's servos take from the electronics supply now. */
export interface DrawnByServos {
	/** On top of the plant's own electronics, into `out[0]`: a number given back would be allocated. */
	readAmperes(out: Float64Array): void;
	/** The servo that takes most; null where none takes any. */
	most(): { readonly name: string; readonly amperes: number } | null;
}

function drawnWords(servos: DrawnByServos | null): string {
	const most = servos?.most();
	return most ? `; the servo of '${most.name}' draws ${most.amperes.toFixed(1)} A` : "";
}

/**
 * Whether a flight has ended: numbers beyond 200 rad/s or 300 m/s or not finite ('diverged'), thrust no longer pointing up, that is tilt beyond 90 degrees ('flipped'), no battery voltage for the load
 * or less than the electronics need ('brownOut'). What the ground ends: ground-ending.ts.
 */
export function endingOf(
	kernel: Kernel,
	plant: Plant,
	supply: Supply,
	x: Float64Array,
	timeUs: number,
	servos: DrawnByServos | null = null,
): Ending | null {
	bodyRates(kernel, x, rates);
	const spin = Math.sqrt(rates[0]! ** 2 + rates[1]! ** 2 + rates[2]! ** 2);
	const speed = Math.sqrt(x[3]! ** 2 + x[4]! ** 2 + x[5]! ** 2);
	if (!(spin < FASTEST_RATE && speed < FASTEST_SPEED))
		return {
			status: "diverged",
			reason: Number.isFinite(spin + speed)
				? `turning at ${spin.toFixed(0)} rad/s, moving at ${speed.toFixed(0)} m/s at ${(timeUs * 1e-6).toFixed(3)} s`
				: `numbers no longer finite at ${(timeUs * 1e-6).toFixed(3)} s`,
		};
	const qx = x[7]!;
	const qy = x[8]!;
	const upright = 1 - 2 * (qx * qx + qy * qy);
	if (upright < 0) {
		const tilt = (Math.acos(Math.max(-1, upright)) * 180) / Math.PI;
		return {
			status: "flipped",
			reason: `tilted ${tilt.toFixed(0)} degrees, beyond 90, at ${(timeUs * 1e-6).toFixed(3)} s`,
		};
	}
	return supplyEnding(kernel, plant, supply, x, timeUs, servos);
}

/**
 * What battery and the electronics' regulator end: it gives no more than its limit, and with less than output plus dropout before it the output falls with the battery.
 * Power behind it is taken as power before it: what a regulator itself loses is left out.
 */
function supplyEnding(
	kernel: Kernel,
	plant: Plant,
	supply: Supply,
	x: Float64Array,
	timeUs: number,
	servos: DrawnByServos | null,
): Ending | null {
	const volts = batteryVoltage(kernel, x);
	if (kernel.work[WORK_BROWN_OUT]! > 0)
		return {
			status: "brownOut",
			reason: `the battery cannot give the power that the motors take${drawnWords(servos)} at ${(timeUs * 1e-6).toFixed(3)} s`,
		};
	if (volts < plant.brownOutV)
		return {
			status: "brownOut",
			reason: `battery at ${volts.toFixed(2)} V, the electronics need ${plant.brownOutV.toFixed(2)} V${drawnWords(servos)}, at ${(timeUs * 1e-6).toFixed(3)} s`,
		};
	drawn[0] = 0;
	servos?.readAmperes(drawn);
	const amperes = plant.avionicsPowerW / supply.outputV + drawn[0]!;
	if (amperes > supply.limitA)
		return {
			status: "brownOut",
			reason: `electronics and servos ask the supply for ${amperes.toFixed(2)} A, it gives ${supply.limitA} A${drawnWords(servos)}, at ${(timeUs * 1e-6).toFixed(3)} s`,
		};
	const output = Math.min(supply.outputV, volts - supply.dropoutV);
	if (output < supply.brownOutV)
		return {
			status: "brownOut",
			reason: `battery at ${volts.toFixed(2)} V leaves the supply's output at ${output.toFixed(2)} V, the controller restarts below ${supply.brownOutV.toFixed(2)} V${drawnWords(servos)}, at ${(timeUs * 1e-6).toFixed(3)} s`,
		};
	return null;
}

const drawn = new Float64Array(1);
const rates = new Float64Array(3);

/** Height of the point between the feet. */
export function feetHeight(plant: Plant, x: Float64Array): number {
	const w = x[6]!;
	const i = x[7]!;
	const j = x[8]!;
	const k = x[9]!;
	const c = plant.centreOfMassM;
	const down =
		2 * (i * k - w * j) * -c[0] +
		2 * (j * k + w * i) * -c[1] +
		(1 - 2 * (i * i + j * j)) * (plant.feetBelowM - c[2]);
	return -(x[2]! + down);
}
