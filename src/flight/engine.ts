import { createController } from "../control/controller.ts";
import { IN, OUT } from "../control/signals.ts";
import { writeCurveSpeed } from "../craft/speed-curve.ts";
import { createRandom } from "../math/random.ts";
import { stepHeld } from "../physics/kernel.ts";
import {
	AIR_SIZE,
	batteryVoltage,
	createKernel,
	OUTSIDE_SIZE,
	ROTORS,
	WORK_BROWN_OUT,
	WORK_STEP,
} from "../physics/kernel-layout.ts";
import { createAsked } from "./asked.ts";
import { clockPhases } from "./clock-phases.ts";
import { readInputs } from "./control-input.ts";
import { createDrillActions } from "./drill-actions.ts";
import { type Ending, endingOf } from "./endings.ts";
import { createFaults } from "./faults.ts";
import { createGroundEnding } from "./ground-ending.ts";
import { createKnownInput } from "./known-input.ts";
import { COUNT, EVENT, layoutFor } from "./layout.ts";
import { createLiveness } from "./lift-off.ts";
import { liveEntries } from "./live.ts";
import { sendPulse } from "./pulse.ts";
import { createReadings } from "./readings.ts";
import { createRecorder } from "./recorder.ts";
import type { FlightResult } from "./result.ts";
import { noteDue, push, shift } from "./ring.ts";
import { createSensors } from "./sensors.ts";
import { servosHolding } from "./servo-supply.ts";
import { type Flight, type FlightSetup, resolveOptions } from "./setup.ts";
import { holdOnRig, holdRest, holdTrim, startOf } from "./start.ts";
import { createStepper } from "./steppers.ts";
import { createStickInput } from "./stick-input.ts";
import { timelineOf } from "./timeline.ts";
import { createValidity } from "./validity.ts";
import { createWindField, TURBULENCE_TICK_US } from "./wind-field.ts";
import { outputOfRotor, wiredMixer, wiredPlant, wiredSensors, wireHeld, wrongReadings } from "./wiring.ts";

export type { Flight } from "./setup.ts";

const NEVER = Number.POSITIVE_INFINITY;

/** From trim at the drill's height and wind. Clocks are whole microseconds; docs/model.md section 6 gives the order of events. */
export function createFlight(setup: FlightSetup): Flight {
	const { craft, gainSet, drill } = setup;
	const { timing } = craft;
	const { noise, rounding, maxStepUs, seed, recordUs, rows, columns } = resolveOptions(setup);

	const start = startOf(setup);
	const { trim } = start;
	const built = wiredPlant(setup, start.plant);
	const n = start.plant.rotors.length;
	const controller = createController(
		setup.wiring?.gainSet ?? gainSet,
		timing.control.periodUs * 1e-6,
		wiredMixer(setup, start.mixer),
	);
	const held = createStepper(setup, built, start.down);
	// In a limb's flight its servos take what they take, step by step.
	const plant = held.limb ? { ...built, avionicsPowerW: craft.battery.avionicsPowerW } : built;
	const kernel = createKernel(plant, craft.sensors);
	const { stepper, ground } = held;
	const layout = layoutFor(craft, controller.stateLength, stepper.ownLength);
	const s = new Float64Array(layout.size);
	const x = s.subarray(layout.x, layout.x + ROTORS + n);
	const controllerState = s.subarray(layout.controller, layout.controller + controller.stateLength);
	const touch = s.subarray(layout.touch, layout.touch + stepper.ownLength);
	const drawn = held.limb?.servos.drawnIn(touch) ?? servosHolding(craft, start.servoNm);
	const next = s.subarray(layout.next, layout.next + EVENT.apply + n + 1);
	const counts = s.subarray(layout.counts, layout.counts + COUNT.length);
	const RECORD = EVENT.apply + n;
	const input = new Float64Array(IN.length);
	const output = new Float64Array(controller.outputLength);
	const u = new Float64Array(n);
	const air = new Float64Array(AIR_SIZE);
	const outside = new Float64Array(OUTSIDE_SIZE);
	const clockRandom = createRandom(seed, 1);
	const hoverSpeed = trim.speedsRadPerSec.reduce((a, b) => a + b, 0) / n;
	const wrong = wrongReadings(setup);
	const sensors = wiredSensors(
		createSensors(craft, kernel, hoverSpeed, createRandom(seed, 2), noise, rounding),
		wrong,
	);
	const outputOf = outputOfRotor(setup, n);
	const wind = createWindField(
		drill.wind,
		start.meanWindMPerSec,
		drill.heightM,
		start.plant.spanM,
		createRandom(seed, 3),
	);
	const groundEnding = createGroundEnding(setup, plant, held, touch);
	const timeline = timelineOf(drill, wind.boundariesUs, craft.safety.signalLostAfterUs);
	const faults = createFaults(layout, s);
	const asked = createAsked(layout, s, craft.safety);
	const validity = createValidity();
	const recorder = createRecorder(kernel, layout, rows, {
		wanted: columns,
		more: held.limb,
		own: touch,
		feet: { count: held.ground ? craft.airframe.feetM.length : 0, ownAt: held.groundAt },
	});
	const phases = clockPhases(timing, noise, clockRandom);
	const fused = timing.attitude.kind === "fused";
	// A loop that a drill loosens catches up, but cannot begin again before it has computed.
	const loosened = drill.events.some(({ kind }) => kind === "looseLoop");
	const leastTickUs = loosened ? Math.max(1, timing.computeUs) : 1;
	let timelineAt = 0;
	let ending: Ending | null = null;
	let steps = 0;
	let ticks = 0;
	let events = 0;
	const sticks = createStickInput(craft, gainSet.structure, layout, setup);
	const liveness = createLiveness(gainSet, layout, trim.throttle);
	const readings = createReadings({
		timing,
		layout,
		s,
		x,
		next,
		counts,
		sensors,
		faults,
		gyroPhaseUs: phases.gyroUs,
		attitudePhaseUs: phases.attitudeUs,
	});
	const actions = createDrillActions({
		setup,
		plant,
		kernel,
		layout,
		s,
		x,
		outside,
		sticks,
		liveness,
		held,
		touch,
		next,
		receiverPhaseUs: phases.receiverUs,
		trimThrottle: trim.throttle,
		faults,
		asked,
	});

	const tellKnown = createKnownInput(setup, start, held.limb, actions.known, touch);

	const setSpeeds = (i: number): void => {
		const { curve, rotors } = start.plant;
		writeCurveSpeed(curve, s, layout.applied + i, u, i);
		u[i]! *= rotors[i]!.speedFactor / curve.referenceVoltageV;
	};

	const integrateTo = (timeUs: number): void => {
		const from = s[layout.nowUs]!;
		const span = timeUs - from;
		if (!(span > 0)) return;
		const count = Math.ceil(span / maxStepUs);
		const h = (span / count) * 1e-6;
		for (let i = 0; i < count; i++) {
			if (wind.varying) {
				wind.span[0] = from * 1e-6 + i * h;
				wind.span[1] = from * 1e-6 + (i + 1) * h;
				wind.fill(air);
			}
			kernel.work[WORK_STEP] = h;
			if (stepper.idle(x)) stepHeld(kernel, x, u, air, outside);
			else stepper.step(kernel, x, u, air, outside, touch);
		}
		steps += count;
		s[layout.nowUs] = timeUs;
	};

	const watch = (timeUs: number): void => {
		validity.watch(x, air, actions.plant);
		ending =
			endingOf(kernel, actions.plant, craft.supply, x, timeUs, drawn) ??
			groundEnding(kernel, actions.plant, x, timeUs);
	};

	const tickControl = (timeUs: number): void => {
		counts[COUNT.control]! += 1;
		const nominal = counts[COUNT.control]! * timing.control.periodUs;
		const jitter = (noise ? timing.control.jitterUs : 0) + s[layout.loose]!;
		next[EVENT.control] =
			jitter > 0 ? Math.round(nominal + jitter * (2 * clockRandom.uniform() - 1)) : nominal;
		if (next[EVENT.control]! < timeUs + leastTickUs) next[EVENT.control] = timeUs + leastTickUs;
		if (timeUs < actions.stallUntilUs) return;
		const skip = Math.max(noise ? timing.control.skipChance : 0, s[layout.loose + 1]!);
		if (skip > 0 && clockRandom.uniform() < skip) return;
		if (craft.mixer.batteryCompensation) {
			integrateTo(timeUs);
			input[IN.voltage] = batteryVoltage(kernel, x);
		}
		liveness.watch(s, timeUs);
		readInputs(layout, s, input);
		tellKnown(input);
		input[IN.rateSpacing] = (s[layout.gyroSampleUs]! - s[layout.usedSampleUs]!) * 1e-6;
		s[layout.usedSampleUs] = s[layout.gyroSampleUs]!;
		controller.tick(controllerState, input, output);
		ticks++;
		const slot = push(s, layout.publishRing, timeUs + timing.computeUs);
		for (let i = 0; i < n; i++) s[slot + 1 + i] = output[OUT.commands + i]!;
		noteDue(s, layout.publishRing, next, EVENT.publish);
	};

	const publish = (): void => {
		const slot = shift(s, layout.publishRing);
		for (let i = 0; i < n; i++) s[layout.published + i] = s[slot + 1 + i]!;
		noteDue(s, layout.publishRing, next, EVENT.publish);
	};

	const latch = (timeUs: number): void => {
		counts[COUNT.latch]! += 1;
		next[EVENT.latch] = phases.latchUs + counts[COUNT.latch]! * timing.escFrame.periodUs;
		for (let i = 0; i < n; i++) {
			const ring = layout.transportRings[i]!;
			const slot = push(s, ring, 0);
			s[slot + 1] = s[layout.published + outputOf[i]!]!;
			sendPulse(timing.pulse, rounding, s, slot);
			s[slot]! += timeUs;
			noteDue(s, ring, next, EVENT.apply + i);
		}
	};

	const applyCommand = (i: number, timeUs: number): void => {
		const ring = layout.transportRings[i]!;
		const command = s[shift(s, ring) + 1]!;
		noteDue(s, ring, next, EVENT.apply + i);
		if (command === s[layout.applied + i]!) return;
		integrateTo(timeUs);
		s[layout.applied + i] = command;
		setSpeeds(i);
	};

	const serve = (kind: number, timeUs: number): void => {
		events++;
		switch (kind) {
			case EVENT.turbulence:
				integrateTo(timeUs);
				wind.tick();
				wind.span[0] = timeUs * 1e-6;
				wind.span[1] = timeUs * 1e-6;
				wind.fill(air);
				next[EVENT.turbulence] = timeUs + TURBULENCE_TICK_US;
				return;
			case EVENT.drill: {
				integrateTo(timeUs);
				const entry = timeline[timelineAt]!;
				timelineAt++;
				next[EVENT.drill] = timeline[timelineAt]?.timeUs ?? NEVER;
				if (entry.event) actions.serve(entry.event, entry.ends, timeUs);
				return;
			}
			case EVENT.hand:
				integrateTo(timeUs);
				actions.moveHand(timeUs);
				return;
			case EVENT.gyro:
				integrateTo(timeUs);
				readings.sampleGyro(timeUs);
				actions.watchCord(timeUs);
				watch(timeUs);
				return;
			case EVENT.attitude:
				integrateTo(timeUs);
				readings.sampleAttitude(timeUs);
				return;
			case EVENT.gyroArrival:
				readings.gyroArrives();
				return;
			case EVENT.attitudeArrival:
				readings.attitudeArrives();
				return;
			case EVENT.receiver:
				next[EVENT.receiver] = NEVER;
				if (asked.lost) return;
				sticks.receive(s);
				asked.heard();
				return;
			case EVENT.control:
				tickControl(timeUs);
				return;
			case EVENT.publish:
				publish();
				return;
			case EVENT.latch:
				latch(timeUs);
				return;
			default:
				if (kind < RECORD) {
					applyCommand(kind - EVENT.apply, timeUs);
					return;
				}
				integrateTo(timeUs);
				recorder.record(timeUs, s, x, output);
				counts[COUNT.record]! += 1;
				next[RECORD] = counts[COUNT.record]! * recordUs;
		}
	};

	/** Serves all events before `limitUs` (or at it, if `inclusive`) in order of time, then of kind. */
	const run = (limitUs: number, inclusive: boolean): void => {
		while (!ending) {
			let first = next[0]!;
			let kind = 0;
			for (let k = 1; k <= RECORD; k++) {
				const due = next[k]!;
				if (due < first) {
					first = due;
					kind = k;
				}
			}
			if (inclusive ? first > limitUs : first >= limitUs) break;
			serve(kind, first);
		}
		if (!ending) integrateTo(limitUs);
	};

	const begin = (): void => {
		wind.fill(air);
		held.limb?.begin(kernel, touch, start.servoNm);
		if (drill.start === "ground") {
			holdRest(setup, ground, layout, s, x, touch);
			liveness.makeSafe(s);
		} else {
			holdTrim(craft, trim, layout, s, x);
			liveness.makeLive(s, true);
		}
		wireHeld(wrong, layout, s, x);
		asked.heard();
		faults.begin();
		for (let i = 0; i < n; i++) setSpeeds(i);
		s[layout.gyroSampleUs] = phases.gyroUs - timing.gyro.periodUs;
		s[layout.usedSampleUs] = s[layout.gyroSampleUs]!;
		input[IN.voltage] = trim.voltageV;
		readInputs(layout, s, input);
		holdOnRig(craft, held.rig, kernel, layout, s, x, touch);
		tellKnown(input);
		controller.settle(controllerState, input, trim.u);
		next.fill(NEVER);
		if (wind.turbulent) next[EVENT.turbulence] = TURBULENCE_TICK_US;
		next[EVENT.drill] = timeline[0]?.timeUs ?? NEVER;
		next[EVENT.gyro] = phases.gyroUs;
		if (fused) next[EVENT.attitude] = phases.attitudeUs;
		next[EVENT.control] = 0;
		next[EVENT.latch] = phases.latchUs;
		if (recordUs > 0) next[RECORD] = 0;
	};
	begin();

	return {
		trim,
		advanceTo: (timeUs) => run(timeUs, true),
		advanceJustBefore: (timeUs) => run(timeUs, false),
		get nowUs() {
			return s[layout.nowUs]!;
		},
		get ending() {
			return ending;
		},
		state: s,
		snapshot: () => s.slice(),
		restore(snapshot) {
			s.set(snapshot);
			ending = null;
			kernel.work[WORK_BROWN_OUT] = 0;
			held.limb?.agree(kernel, touch);
			for (let i = 0; i < n; i++) setSpeeds(i);
		},
		live: () => liveEntries(s, layout, controller, n, fused, held.limb?.live()),
		result() {
			const outsideModel = [...validity.sentences(), ...(held.limb?.outsideModel() ?? [])];
			if (start.noTrim)
				outsideModel.unshift(`no trim to start from, motors at full command: ${start.noTrim}`);
			if (wind.extrapolated)
				outsideModel.push(
					"turbulence is extrapolated: below 10 ft, above 1000 ft or below 3 m/s through the air",
				);
			return {
				status: ending?.status ?? "completed",
				timeSec: s[layout.nowUs]! * 1e-6,
				reason: ending?.reason ?? "",
				trace: recorder.trace(),
				notes: [...actions.notes, ...(held.limb?.notes() ?? [])],
				outsideModel,
				counters: { steps, ticks, events },
				seed,
			};
		},
	};
}

/** The whole drill. */
export function fly(setup: FlightSetup): FlightResult {
	const flight = createFlight(setup);
	flight.advanceTo(Math.round(setup.drill.durationSec * 1e6));
	return flight.result();
}
