import { createController } from "../src/control/controller.ts";
import { createMixer } from "../src/control/mixer.ts";
import { IN } from "../src/control/signals.ts";
import type { AxisGains, FilterSpec, GainSet } from "../src/control/spec.ts";
import { createRandom } from "../src/math/random.ts";

const PERIOD_SEC = 0.001;
const READINGS = 64;
const TWO_FILTERS: readonly FilterSpec[] = [
	{ kind: "lowPass2", cutoffHz: 90, damping: 0.7 },
	{ kind: "notch", centreHz: 120, widthHz: 40 },
];

/**
 * Times the controller's tick at 1 kHz, cascade, four rotors, on the readings of a craft that rocks and shakes a little.
 * @returns nanoseconds a tick, the best of `repeats` runs of `ticks` each, and a sum that depends on every tick
 */
export function benchController(ticks = 2000, repeats = 500): readonly ControllerTiming[] {
	return [time("no filters", [], ticks, repeats), time("two filters", TWO_FILTERS, ticks, repeats)];
}

interface ControllerTiming {
	readonly name: string;
	readonly nsPerTick: number;
	readonly checksum: number;
}

function time(
	name: string,
	filters: readonly FilterSpec[],
	ticks: number,
	repeats: number,
): ControllerTiming {
	const controller = createController(gainSet(filters), PERIOD_SEC, mixer());
	const readings = inputs();
	const output = new Float64Array(controller.outputLength);
	let best = Number.POSITIVE_INFINITY;
	let checksum = 0;
	for (let repeat = 0; repeat <= repeats; repeat++) {
		const state = new Float64Array(controller.stateLength);
		checksum = 0;
		const start = performance.now();
		for (let k = 0; k < ticks; k++) {
			controller.tick(state, readings[k % READINGS]!, output);
			checksum += output[output.length - 1]!;
		}
		// The first run warms up.
		if (repeat > 0) best = Math.min(best, performance.now() - start);
	}
	return { name, nsPerTick: (best * 1e6) / ticks, checksum };
}

function inputs(): readonly Float64Array[] {
	const random = createRandom(1);
	return Array.from({ length: READINGS }, (_, k) => {
		const input = new Float64Array(IN.length);
		for (let i = 0; i < 3; i++) {
			const turn = 2 * Math.PI * (k / READINGS) + i;
			input[IN.angle + i] = 0.1 * Math.sin(turn);
			input[IN.rateSetPoint + i] = 0.2 * Math.cos(2 * turn);
			input[IN.rate + i] = 0.5 * Math.cos(turn) + 0.02 * random.normal();
		}
		input[IN.throttle] = 0.45;
		input[IN.voltage] = 15;
		input[IN.rateSpacing] = PERIOD_SEC;
		input[IN.lifted] = 1;
		input[IN.live] = 1;
		return input;
	});
}

function mixer() {
	const a = 0.18;
	return createMixer(
		{
			table: null,
			batteryCompensation: false,
			thrustLinearisation: 0,
			lowestSpin: 0.08,
			throttleRiseCap: 0.1,
		},
		{
			rotors: (
				[
					[a, a, -1],
					[-a, a, 1],
					[-a, -a, -1],
					[a, -a, 1],
				] as const
			).map(([x, y, spin]) => ({
				positionM: [x, y, -0.02],
				axis: [0, 0, -1],
				spin,
				thrustSlope: 12,
				torqueSlope: 0.21,
			})),
			centreOfMassM: [0, 0, 0],
			referenceVoltageV: 14.8,
		},
	);
}

function gainSet(filters: readonly FilterSpec[]): GainSet {
	const tilt: AxisGains = {
		kAngle: 4,
		kAngleI: 0.5,
		kp: 0.1,
		ki: 0.1,
		kd: 0.002,
		kff: 0.01,
		setPointWeight: 0.9,
		integralLimit: 0.2,
		outputLimit: 0.4,
		rateLimitRadPerSec: 4,
		angleIntegralLimitRadPerSec: 0.5,
		derivativeCutoffHz: 40,
	};
	const yaw = { ...tilt, kAngle: 0, kp: 0.25, kd: 0, outputLimit: 0.2 };
	return { name: "timed", structure: "cascade", roll: tilt, pitch: tilt, yaw, filters };
}
