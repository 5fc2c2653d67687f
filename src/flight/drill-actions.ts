import { stickForThrottle } from "../control/sticks.ts";
import type { Vec3 } from "../math/types.ts";
import { heaveAt } from "../physics/heave.ts";
import type { Kernel } from "../physics/kernel-layout.ts";
import { bodyRates, loadPlant } from "../physics/kernel-layout.ts";
import { reachM } from "../physics/limb-contacts.ts";
import type { CarriedLoad } from "../physics/limb-tree.ts";
import type { Plant } from "../physics/plant.ts";
import { loadsAt, plantWithLoads } from "../physics/plant-at.ts";
import type { Asked } from "./asked.ts";
import type { Faults } from "./faults.ts";
import { createHand, type Hand } from "./hand.ts";
import { EVENT, type Layout } from "./layout.ts";
import type { Liveness } from "./lift-off.ts";
import { letGo, takeUp } from "./load-change.ts";
import { KNOWN } from "./load-known.ts";
import { PERSON } from "./pilot.ts";
import { type FlightSetup, resolveOptions } from "./setup.ts";
import { createSlackCord, type SlackCord } from "./slack-cord.ts";
import { startOf } from "./start.ts";
import type { Held } from "./steppers.ts";
import { AXIS_INDEX, type StickInput } from "./stick-input.ts";
import type { TimelineEntry } from "./timeline.ts";
import { gridAfter } from "./timeline.ts";
import { askedSign, wiredPlant } from "./wiring.ts";

const DEG = 180 / Math.PI;

/** What drill events do to a flight. */
export interface DrillActions {
	serve(event: NonNullable<TimelineEntry["event"]>, ends: boolean, timeUs: number): void;
	/** What the firmware did by itself. */
	readonly notes: readonly string[];
	/** The craft as it is now, loads included. */
	readonly plant: Plant;
	/** What the firmware takes for carried (`KNOWN`). */
	readonly known: Float64Array;
	/** Looks whether a slack cord is taut. Allocates nothing unless it has become so. */
	watchCord(timeUs: number): void;
	/** Whoever holds the throttle moves it. */
	moveHand(timeUs: number): void;
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
	/** When each kind of event is due next. */
	readonly next: Float64Array;
	readonly receiverPhaseUs: number;
	readonly trimThrottle: number;
	readonly faults: Faults;
	readonly asked: Asked;
}

/** One who knows what hover takes at the first height that is asked for; null where none is. */
function handOf({ setup, layout, s, x }: ActedOn): Hand | null {
	const first = setup.drill.events.find((event) => event.kind === "height");
	if (!first) return null;
	const { plant, mixer, trim } = startOf({
		...setup,
		point: { ...setup.point, throttle: "hover" },
		drill: { ...setup.drill, heightM: first.heightM },
	});
	return createHand({ layout, s, x, heave: heaveAt(plant, mixer, trim), hoverThrottle: trim.throttle });
}

/** Down in body axes. */
const downIn = (x: Float64Array): Vec3 => [
	2 * (x[7]! * x[9]! - x[6]! * x[8]!),
	2 * (x[8]! * x[9]! + x[6]! * x[7]!),
	1 - 2 * (x[7]! * x[7]! + x[8]! * x[8]!),
];

const massOf = (loads: readonly CarriedLoad[]): number => loads.reduce((sum, { massKg }) => sum + massKg, 0);

export function createDrillActions(on: ActedOn): DrillActions {
	const { kernel, layout, s, x, next, outside, sticks, liveness, asked } = on;
	const { craft, point } = on.setup;
	const { limb } = on.held;
	let plant: Plant = limb ? { ...on.plant, centreOfMassM: limb.centreM } : on.plant;
	let loads: readonly CarriedLoad[] = loadsAt(craft, point);
	const known = new Float64Array(KNOWN.length);
	known[KNOWN.massKg] = massOf(loads);
	let cord: SlackCord | null = null;
	let stallUntilUs = -1;
	const notes: string[] = [];
	const hand = handOf(on);
	hand?.reload(plant);
	const stickUs = resolveOptions(on.setup).rounding ? 1 : 0;

	const callReceiver = (timeUs: number): void => {
		next[EVENT.receiver] = gridAfter(timeUs, on.receiverPhaseUs, craft.timing.receiver.periodUs);
	};

	const moveStick = (axis: keyof typeof AXIS_INDEX, readingUs: number, timeUs: number): void => {
		sticks.move(axis, readingUs);
		if (!asked.lost) callReceiver(timeUs);
	};

	const leaveThrottle = (): void => {
		hand?.leave();
		next[EVENT.hand] = Number.POSITIVE_INFINITY;
	};

	const moveHand = (timeUs: number): void => {
		if (!hand) return;
		// The limb moves the centre of mass against the feet.
		if (limb) hand.reload(plant);
		hand.move();
		next[EVENT.hand] = timeUs + PERSON.periodUs;
		if (hand.kind === 1) asked.ask(6, hand.throttle);
		else {
			const reading = stickForThrottle(craft.sticks.throttle, hand.throttle);
			moveStick("throttle", stickUs > 0 ? Math.round(reading) : reading, timeUs);
		}
	};

	const momentsNow = (): [number, number] => {
		const [cx, cy] = limb ? limb.centreM : plant.centreOfMassM;
		const massKg = limb ? limb.massKg : plant.massKg;
		return [massKg * cx, massKg * cy];
	};

	/** Behind the supply but for the limb's servos in a limb's flight; elsewhere these hold what they held at the start. */
	const electronicsW = (): number => on.plant.avionicsPowerW + s[layout.servoW]!;

	const changeLoad = (
		after: readonly CarriedLoad[],
		taken: CarriedLoad | null,
		standing = false,
		down = downIn(x),
	): void => {
		known.fill(0);
		known[KNOWN.massKg] = massOf(after);
		if (limb) {
			const changed = limb.change(kernel, x, on.touch, after, taken !== null, down, standing);
			plant = { ...changed, avionicsPowerW: electronicsW() };
			loads = after;
			hand?.reload(plant);
			return;
		}
		const changed = wiredPlant(on.setup, plantWithLoads(craft, point, after));
		if (taken) takeUp(plant, changed, taken.massKg, taken.positionM, x);
		else {
			const rates = new Float64Array(3);
			bodyRates(kernel, x, rates);
			letGo(plant, changed, [rates[0]!, rates[1]!, rates[2]!], x);
		}
		plant = { ...changed, avionicsPowerW: electronicsW() };
		loads = after;
		hand?.reload(plant);
		loadPlant(kernel, plant, craft.sensors);
		on.held.stepper.reload?.(plant);
	};

	/** A load that stands on the ground below is gripped there, its weight on the ground until it is raised. */
	const lift = (load: CarriedLoad, timeUs: number): void => {
		const at = `${(timeUs * 1e-6).toFixed(2)} s`;
		const found = limb!.reach(x, on.touch, load);
		const { tether } = craft.load;
		if (tether) {
			if (found.aboveM <= tether.lengthM) {
				cord = createSlackCord(craft, load, found.middleM, tether.lengthM);
				notes.push(`load on the ground tied on at ${at}, its cord slack`);
			} else
				notes.push(
					`load not tied on at ${at}: the place it would hang from was ${(1000 * found.aboveM).toFixed(0)} mm above the middle of the load on the ground, expected within the cord's ${(1000 * tether.lengthM).toFixed(0)} mm`,
				);
			return;
		}
		const within = reachM(craft, load.inGrip === true);
		if (Math.abs(found.aboveM) > within) {
			notes.push(
				`load not taken up at ${at}: the place where it would be held was ${(1000 * Math.abs(found.aboveM)).toFixed(0)} mm ${found.aboveM > 0 ? "above" : "below"} the middle of the load on the ground, expected within ${(1000 * within).toFixed(0)} mm, the grip's radius or half the load's size`,
			);
			return;
		}
		const drift = Math.sqrt(x[3]! ** 2 + x[4]! ** 2 + x[5]! ** 2);
		changeLoad([...loads, found.load], found.load, true);
		notes.push(
			`load gripped at ${at} where it stood on the ground, the craft moving at ${drift.toFixed(2)} m/s`,
		);
	};

	/** A cord that has come to its length: the load hangs on it from here on, its weight on the ground until it is raised. */
	const watchCord = (timeUs: number): void => {
		if (!cord?.taut(limb!.posture, x)) return;
		const { load } = cord;
		const { turn } = limb!.reach(x, on.touch, load).load;
		const hung = { ...load, cordM: cord.lengthM(), ...(turn && { turn }) };
		changeLoad([...loads, hung], hung, true, cord.down());
		cord = null;
		notes.push(`its cord was pulled taut at ${(timeUs * 1e-6).toFixed(2)} s`);
	};

	/** Plant with what servos take now; the load's own numbers stay. */
	const loadServos = (watts: number): void => {
		s[layout.servoW]! += watts;
		plant = { ...plant, avionicsPowerW: electronicsW() };
		loadPlant(kernel, plant, craft.sensors);
		limb?.servos.besides(plant.avionicsPowerW);
		limb?.agree(kernel, on.touch);
	};

	const makeLive = (timeUs: number): void => {
		const { liveBelowThrottle, liveBelowTiltRad } = craft.safety;
		const at = `at ${(timeUs * 1e-6).toFixed(2)} s`;
		const throttle = s[layout.throttle]!;
		const tilt = Math.acos(Math.cos(s[layout.angles]!) * Math.cos(s[layout.angles + 1]!));
		if (liveBelowThrottle !== null && throttle >= liveBelowThrottle)
			notes.push(
				`not made live ${at}: throttle stood at ${(100 * throttle).toFixed(0)} %, allowed below ${(100 * liveBelowThrottle).toFixed(0)} %`,
			);
		else if (liveBelowTiltRad !== null && tilt >= liveBelowTiltRad)
			notes.push(
				`not made live ${at}: it leant ${(tilt * DEG).toFixed(0)} deg, allowed below ${(liveBelowTiltRad * DEG).toFixed(0)} deg`,
			);
		else {
			if (throttle > craft.mixer.lowestSpin)
				notes.push(
					`made live ${at} with throttle at ${(100 * throttle).toFixed(0)} %: the motors go there at once`,
				);
			liveness.makeLive(s, false);
		}
	};

	const serve = (event: NonNullable<TimelineEntry["event"]>, ends: boolean, timeUs: number): void => {
		const sign = ends ? -1 : 1;
		switch (event.kind) {
			case "angle":
				asked.ask(AXIS_INDEX[event.axis], event.angleRad * askedSign(on.setup, AXIS_INDEX[event.axis]));
				return;
			case "rate":
				asked.ask(
					3 + AXIS_INDEX[event.axis],
					event.rateRadPerSec * askedSign(on.setup, AXIS_INDEX[event.axis]),
				);
				return;
			case "throttle":
				leaveThrottle();
				asked.ask(6, Math.min(1, event.throttle + (event.ofHover ?? 0) * on.trimThrottle));
				return;
			case "stick":
				if (event.axis === "throttle") leaveThrottle();
				moveStick(event.axis, event.readingUs, timeUs);
				return;
			case "height":
				if (hand?.take(event.by, event.heightM, asked.throttle)) next[EVENT.hand] = timeUs;
				return;
			case "leaveThrottle":
				leaveThrottle();
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
				const load = {
					massKg: event.massKg,
					positionM: event.positionM,
					...(event.inGrip && { inGrip: true }),
				};
				if (event.fromGround) lift(load, timeUs);
				else changeLoad([...loads, load], load);
				return;
			}
			case "letGo": {
				cord = null;
				const before = known[KNOWN.massKg]!;
				if (loads.length === 0) return;
				const [x0, y0] = momentsNow();
				if (limb?.loadTouches(on.touch))
					notes.push(`load let go at ${(timeUs * 1e-6).toFixed(2)} s, standing on the ground`);
				changeLoad([], null);
				if (!event.unnoticed) return;
				const [x1, y1] = momentsNow();
				known.set([before, x0 - x1, y0 - y1]);
				return;
			}
			case "limb": {
				if (event.profile) {
					limb?.follow(on.touch, event.link, event.profile);
					return;
				}
				const far = Math.abs(event.angleRad - (limb?.pose(on.touch)[event.link] ?? 0));
				limb?.aim(on.touch, event.link, event.angleRad, event.overSec ? far / event.overSec : 0);
				return;
			}
			case "stuckGrip":
				limb?.hold(ends ? 0 : event.stiffnessNPerM, ends ? 0 : event.dampingNSecPerM);
				return;
			case "makeLive":
				if (asked.askLive(true)) makeLive(timeUs);
				return;
			case "makeSafe":
				if (asked.askLive(false)) liveness.makeSafe(s);
				return;
			case "stuckFoot":
				on.held.ground?.holdFoot(on.touch, event.foot, event.holdN);
				return;
			case "frozen":
			case "glitch":
				on.faults.serve(event, ends);
				return;
			case "looseLoop":
				s[layout.loose]! += sign * event.jitterUs;
				s[layout.loose + 1]! += sign * event.skipChance;
				return;
			case "framesLost":
				if (!ends) asked.lose();
				else {
					const meant = asked.regain();
					if (asked.lost) return;
					if (meant === "makeLive") makeLive(timeUs);
					if (meant === "makeSafe") liveness.makeSafe(s);
					callReceiver(timeUs);
				}
				return;
			case "signalLost": {
				const { onSignalLoss } = craft.safety;
				if (asked.giveUp()) liveness.makeSafe(s);
				const what =
					onSignalLoss === "keep"
						? "it flies on with its last sticks"
						: onSignalLoss === "makeSafe"
							? "motors made safe"
							: `level at ${(100 * onSignalLoss.throttle).toFixed(0)} % throttle`;
				notes.push(`signal taken for lost at ${(timeUs * 1e-6).toFixed(2)} s: ${what}`);
				return;
			}
			case "servoLoad":
				loadServos(sign * event.powerW);
				return;
		}
	};
	return {
		serve,
		moveHand,
		watchCord,
		notes,
		known,
		get plant() {
			return plant;
		},
		get stallUntilUs() {
			return stallUntilUs;
		},
	};
}
