import type { Kernel } from "../physics/kernel-layout.ts";
import { bodyRates, loadPlant } from "../physics/kernel-layout.ts";
import type { Plant } from "../physics/plant.ts";
import { type CarriedLoad, loadsAt, plantWithLoads } from "../physics/plant-at.ts";
import type { DrillEvent } from "./drill.ts";
import type { Layout } from "./layout.ts";
import type { Liveness } from "./lift-off.ts";
import { letGo, takeUp } from "./load-change.ts";
import type { FlightSetup } from "./setup.ts";
import type { Held } from "./steppers.ts";
import { AXIS_INDEX, type StickInput } from "./stick-input.ts";
import { gridAfter } from "./timeline.ts";
import { askedSign, wiredPlant } from "./wiring.ts";

/** What drill events do to a flight. */
export interface DrillActions {
	serve(event: DrillEvent, ends: boolean, timeUs: number): void;
	/** The craft as it is now, loads included. */
	readonly plant: Plant;
	/** Ticks before this time do not happen. */
	readonly stallUntilUs: number;
}

export interface ActedOn {
	readonly setup: FlightSetup;
	readonly plant: Plant;
	readonly kernel: Kernel;
	readonly layout: Layout;
	/** The flight's flat state, and the kernel's x inside it. */
	readonly s: Float64Array;
	readonly x: Float64Array;
	readonly outside: Float64Array;
	readonly sticks: StickInput;
	readonly liveness: Liveness;
	/** What touches or holds the craft, and its numbers. */
	readonly held: Held;
	readonly touch: Float64Array;
	/** A receiver frame is due at this time. */
	readonly callReceiver: (atUs: number) => void;
	readonly receiverPhaseUs: number;
	readonly trimThrottle: number;
}

export function createDrillActions(on: ActedOn): DrillActions {
	const { kernel, layout, s, x, outside, sticks, liveness } = on;
	const { craft, point } = on.setup;
	let plant = on.plant;
	let loads: readonly CarriedLoad[] = loadsAt(craft, point);
	let stallUntilUs = -1;

	const changeLoad = (after: readonly CarriedLoad[], taken: CarriedLoad | null): void => {
		const changed = wiredPlant(on.setup, plantWithLoads(craft, point, after));
		if (taken) takeUp(plant, changed, taken.massKg, taken.positionM, x);
		else {
			const rates = new Float64Array(3);
			bodyRates(kernel, x, rates);
			letGo(plant, changed, [rates[0]!, rates[1]!, rates[2]!], x);
		}
		plant = changed;
		loads = after;
		loadPlant(kernel, plant, craft.sensors);
		on.held.stepper.reload?.(plant);
	};

	const serve = (event: DrillEvent, ends: boolean, timeUs: number): void => {
		const sign = ends ? -1 : 1;
		switch (event.kind) {
			case "angle":
				s[layout.angleSetPoint + AXIS_INDEX[event.axis]] =
					event.angleRad * askedSign(on.setup, AXIS_INDEX[event.axis]);
				return;
			case "rate":
				s[layout.rateSetPoint + AXIS_INDEX[event.axis]] =
					event.rateRadPerSec * askedSign(on.setup, AXIS_INDEX[event.axis]);
				return;
			case "throttle":
				s[layout.throttle] = Math.min(1, event.throttle + (event.ofHover ?? 0) * on.trimThrottle);
				return;
			case "stick":
				sticks.move(event.axis, event.readingUs);
				on.callReceiver(gridAfter(timeUs, on.receiverPhaseUs, craft.timing.receiver.periodUs));
				return;
			case "torque":
				for (let i = 0; i < 3; i++) outside[i]! += sign * event.torqueNm[i]!;
				return;
			case "force":
				for (let i = 0; i < 3; i++) outside[3 + i]! += sign * event.forceN[i]!;
				return;
			case "stall":
				stallUntilUs = Math.max(stallUntilUs, timeUs + Math.round(event.durationSec * 1e6));
				return;
			case "takeUp": {
				const load = { massKg: event.massKg, positionM: event.positionM };
				changeLoad([...loads, load], load);
				return;
			}
			case "letGo":
				if (loads.length > 0) changeLoad([], null);
				return;
			case "makeLive":
				liveness.makeLive(s, false);
				return;
			case "makeSafe":
				liveness.makeSafe(s);
				return;
			case "stuckFoot":
				on.held.ground?.holdFoot(on.touch, event.foot, event.holdN);
				return;
			default:
				throw new RangeError(`drill event: kind '${event.kind}' cannot be flown`);
		}
	};
	return {
		serve,
		get plant() {
			return plant;
		},
		get stallUntilUs() {
			return stallUntilUs;
		},
	};
}
