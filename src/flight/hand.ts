import type { Heave } from "../physics/heave.ts";
import type { Plant } from "../physics/plant.ts";
import type { Layout } from "./layout.ts";
import { DELAY_TICKS, LAG_SHARE, PERSON, type Person, personFor } from "./pilot.ts";

/**
 * Who holds the throttle in a drill. Every 20 ms it sees height of the feet h and speed up v and moves the throttle,
 * no faster than HASTE and between 0 and 1:
 *
 *     q     = e - T v        e = target - h, no larger than makes MOST_CLIMB: |e| <= T MOST_CLIMB
 *     I    += alpha q dt while nothing limits
 *     law:    throttle = hover + (KEEP.height / slope) (q + I)      T = KEEP.speed / KEEP.height      at once
 *     pilot:  goal = hover + gain (q + I)                           T = T_L
 *             the stick moves towards the goal of DELAY_TICKS ago by LAG_SHARE of what is left
 *
 * The law is a means to keep height in a drill, not something the firmware does; its gains make a natural frequency of 1.5 rad/s
 * with damping ratio 1 (common practice, no source). Hover, slope and the person's habits are those of
 * hover at the first height asked for, with the load of the start: whoever takes up a load is surprised by it.
 */
const KEEP = { height: 2.25, speed: 3, trimPerSec: 0.3 };
/** m/s; the most a careful hand lets it climb or sink. Common practice, no source. */
const MOST_CLIMB = 1;
/** Throttle per second. Common practice, no source. */
const HASTE = 0.5;
/** Share of hover throttle that trimming out a steady error may reach. */
const MOST_TRIM = 0.5;

const PERIOD_SEC = PERSON.periodUs * 1e-6;
const MOST_MOVE = HASTE * PERIOD_SEC;

const KIND = 0;
const TARGET = 1;
const THROTTLE = 2;
const TRIM = 3;
const FEET = 4;
const COUNT = 5;
const GOALS = 6;

export interface Hand {
	/** Takes the throttle where it stands, or goes on with another target. @returns whether it was not there before */
	take(by: "law" | "pilot", heightM: number, throttleNow: number): boolean;
	leave(): void;
	/** Loads move the centre of mass against the feet. */
	reload(plant: Plant): void;
	/** 0 nobody, 1 the law, 2 the person. */
	readonly kind: number;
	/** Sees and moves. Allocates nothing. */
	move(): void;
	/** Where throttle stands after it moved. */
	readonly throttle: number;
}

export interface HandNeed {
	readonly layout: Layout;
	readonly s: Float64Array;
	/** The kernel's x. */
	readonly x: Float64Array;
	readonly heave: Heave;
	readonly hoverThrottle: number;
}

export function createHand({ layout, s, x, heave, hoverThrottle }: HandNeed): Hand {
	const at = layout.hand;
	const person: Person = personFor(heave);
	const gains = [
		{ leadSec: 0, perMetre: 0, trimPerSec: 0 },
		{
			leadSec: KEEP.speed / KEEP.height,
			perMetre: KEEP.height / heave.slope,
			trimPerSec: KEEP.trimPerSec,
		},
		{ leadSec: person.leadSec, perMetre: person.gain, trimPerSec: PERSON.trimPerSec },
	];
	const drop = hoverThrottle * MOST_TRIM;
	return {
		take(by, heightM, throttleNow) {
			const kind = by === "law" ? 1 : 2;
			const comes = s[at + KIND] === 0;
			if (s[at + KIND] !== kind) {
				s[at + TRIM] = 0;
				s[at + THROTTLE] = throttleNow;
				s.fill(throttleNow, at + GOALS, at + GOALS + DELAY_TICKS);
			}
			s[at + KIND] = kind;
			s[at + TARGET] = heightM;
			return comes;
		},
		leave() {
			s[at + KIND] = 0;
		},
		reload(plant) {
			s[at + FEET] = plant.feetBelowM - plant.centreOfMassM[2];
		},
		get kind() {
			return s[at + KIND]!;
		},
		move() {
			const pilot = s[at + KIND] === 2;
			const { leadSec, perMetre, trimPerSec } = gains[s[at + KIND]!]!;
			const error = s[at + TARGET]! + x[2]! + s[at + FEET]!;
			const most = leadSec * MOST_CLIMB;
			const q = Math.max(-most, Math.min(most, error)) + leadSec * x[5]!;
			const goal = hoverThrottle + perMetre * (q + s[at + TRIM]!);
			const possible = Math.max(0, Math.min(1, goal));
			let due = possible;
			if (pilot) {
				const slot = at + GOALS + (s[at + COUNT]! % DELAY_TICKS);
				due = s[slot]!;
				s[slot] = possible;
				s[at + COUNT]! += 1;
			}
			const wanted = (due - s[at + THROTTLE]!) * (pilot ? LAG_SHARE : 1);
			const moved = Math.max(-MOST_MOVE, Math.min(MOST_MOVE, wanted));
			s[at + THROTTLE]! += moved;
			if (moved === wanted && goal === possible && Math.abs(error) <= most) {
				const trim = s[at + TRIM]! + trimPerSec * PERIOD_SEC * q;
				s[at + TRIM] = Math.max(-drop / perMetre, Math.min(drop / perMetre, trim));
			}
		},
		get throttle() {
			return s[at + THROTTLE]!;
		},
	};
}
