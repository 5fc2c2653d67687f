import { createController } from "../control/controller.ts";
import { IN, OUT } from "../control/signals.ts";
import type { GainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { askedSign, outputOfRotor, type Wiring, wiredMixer, wrongReadings } from "../flight/wiring.ts";
import { fromEuler } from "../math/quaternion.ts";
import type { Vec3 } from "../math/types.ts";
import { craftMixer } from "../physics/mixer-at.ts";

const DEG = Math.PI / 180;

/** Something done by hand with the propellers off, watching what each motor is told. */
export interface BenchProbe {
	readonly id: string;
	/** Begins a sentence, names no motor. */
	readonly action: string;
	/** 'answer': commands after half a second; 'creep': how far the integral moves them in five seconds; 'alone': which motor turns. */
	readonly kind: "answer" | "creep" | "alone";
	readonly eulerRad: Vec3;
	readonly ratesRadPerSec: Vec3;
	/** Shares of full stick asked of roll (right), pitch (forward: nose down is negative) and yaw (clockwise). */
	readonly sticks: Vec3;
	/** How long it is held. */
	readonly forSec: number;
	/** Output that is given alone, where the kind is 'alone'. */
	readonly output: number;
}

const HELD: Vec3 = [0, 0, 0];
const TILT = 15 * DEG;
const TURN = 60 * DEG;
const CREEP_TILT = 10 * DEG;
const ANSWER_SEC = 0.5;
const SOON_SEC = 0.5;
const LATE_SEC = 5;

const held = { eulerRad: HELD, ratesRadPerSec: HELD, sticks: HELD, output: -1, forSec: ANSWER_SEC };

/** Something that the loop cannot take away, held for so long with the integral running. */
function creep(id: string, forSec: number, words: string, rateOnly: boolean): BenchProbe {
	const how = rateOnly
		? `hold it still for ${words} with the roll stick a tenth to the right`
		: `hold it 10 deg right side down for ${words}`;
	return {
		...held,
		id,
		action: `with throttle up long enough for the integral to run, ${how}`,
		kind: "creep",
		forSec,
		...(rateOnly ? { sticks: [0.1, 0, 0] } : { eulerRad: [CREEP_TILT, 0, 0] }),
	};
}

/** What every craft can be asked on the bench; one 'alone' per motor. */
export function benchProbes(craft: Craft, rateOnly: boolean): BenchProbe[] {
	const answer = (id: string, action: string, what: Partial<BenchProbe>): BenchProbe => ({
		...held,
		id,
		action,
		kind: "answer",
		...what,
	});
	return [
		answer("tilt-right", "tilt the craft right side down by 15 deg and hold it", { eulerRad: [TILT, 0, 0] }),
		answer("tilt-front", "tilt it nose down by 15 deg and hold it", { eulerRad: [0, -TILT, 0] }),
		answer("turn-right", "roll it quickly to the right through level, about 60 deg/s", {
			ratesRadPerSec: [TURN, 0, 0],
		}),
		answer("turn-front", "pitch it quickly nose down through level, about 60 deg/s", {
			ratesRadPerSec: [0, -TURN, 0],
		}),
		answer("turn-clockwise", "keep it level and turn it clockwise, seen from above, about 60 deg/s", {
			ratesRadPerSec: [0, 0, TURN],
		}),
		answer("stick-right", "hold it level and move the roll stick half to the right", {
			sticks: [0.5, 0, 0],
		}),
		answer("stick-front", "hold it level and move the pitch stick half forward", { sticks: [0, -0.5, 0] }),
		answer("stick-clockwise", "hold it level and move the yaw stick half to the right", {
			sticks: [0, 0, 0.5],
		}),
		creep("creep-soon", SOON_SEC, "half a second", rateOnly),
		creep("creep-late", LATE_SEC, "five seconds", rateOnly),
		...craft.rotors.map(
			(rotor, output): BenchProbe => ({
				...held,
				id: `alone-${output}`,
				action: `run output ${rotor.motorNumber} alone at lowest spin`,
				kind: "alone",
				output,
			}),
		),
	];
}

/** Throttle at which the bench answers are taken: room above and below. */
const BENCH_THROTTLE = 0.4;

/**
 * What the right or the wrong build answers, one number per rotor: change of command from the level, still craft (or, for
 * 'creep', what the integral adds); for 'alone' 1 at the motor that turns. The craft's own controller and mixer, ticked.
 */
export function benchAnswers(
	craft: Craft,
	set: GainSet,
	wiring: Wiring | undefined,
	probes: readonly BenchProbe[],
): Float64Array[] {
	const n = craft.rotors.length;
	const wired = wiring ? { wiring } : {};
	const outputOf = outputOfRotor(wired, n);
	const period = craft.timing.control.periodUs * 1e-6;
	const controller = createController(wiring?.gainSet ?? set, period, wiredMixer(wired, craftMixer(craft)));
	const wrong = wrongReadings(wired);
	const rateOnly = set.structure === "rateOnly";
	const { fullTiltRad, fullTiltRateRadPerSec, fullTurnRateRadPerSec } = craft.sticks;

	const run = (probe: BenchProbe | null, lifted: boolean, forSec: number): Float64Array => {
		const state = new Float64Array(controller.stateLength);
		const input = new Float64Array(IN.length);
		const output = new Float64Array(controller.outputLength);
		input[IN.throttle] = BENCH_THROTTLE;
		input[IN.voltage] = craft.propulsion.curve.referenceVoltageV;
		input[IN.live] = 1;
		input[IN.lifted] = lifted ? 1 : 0;
		controller.settle(state, input, HELD);
		if (probe) {
			for (const i of [0, 1, 2] as const) {
				const asked = probe.sticks[i] * askedSign(wired, i);
				if (i < 2 && !rateOnly) input[IN.angleSetPoint + i] = asked * fullTiltRad;
				else input[IN.rateSetPoint + i] = asked * (i < 2 ? fullTiltRateRadPerSec : fullTurnRateRadPerSec);
				input[IN.angle + i] = probe.eulerRad[i];
				input[IN.rate + i] = probe.ratesRadPerSec[i];
			}
			const body = new Float64Array(10);
			body.set(fromEuler(probe.eulerRad), 6);
			wrong?.rates(input, IN.rate);
			wrong?.angles(body, input, IN.angle);
		}
		input[IN.rateSpacing] = period;
		for (let tick = 0; tick < Math.round(forSec / period); tick++) controller.tick(state, input, output);
		return Float64Array.from(outputOf, (at) => output[OUT.commands + at]!);
	};

	const still = run(null, false, ANSWER_SEC);
	return probes.map((probe) => {
		if (probe.kind === "alone") return Float64Array.from(outputOf, (at) => (at === probe.output ? 1 : 0));
		if (probe.kind === "answer") {
			return run(probe, false, probe.forSec).map((c, i) => c - still[i]!);
		}
		const without = run(probe, false, probe.forSec);
		return run(probe, true, probe.forSec).map((c, i) => c - without[i]!);
	});
}

/** Command changes below this share of full are not seen by eye. */
export const SEEN = 0.01;

/** Whether a person would tell two answers apart: a motor goes the other way, or by twice as much. */
export function differs(a: Float64Array, b: Float64Array): boolean {
	return a.some((x, i) => {
		const y = b[i]!;
		const gap = Math.abs(x - y);
		return gap > 2 * SEEN && gap > 0.5 * Math.max(Math.abs(x), Math.abs(y));
	});
}
