import { DELAY_TICKS } from "./pilot.ts";

/** Seven asked values, how many losses are under way, and 1 or -1 where motors were asked live or safe meanwhile: asked.ts. */
export const ASKED_LENGTH = 9;

/** Freezes under way (2), what is added (6), what was said last (6): faults.ts. */
export const FAULT_LENGTH = 14;

/** Who, target, throttle now, trim, feet below the centre of mass, ticks so far (6), goals on their way to the hand: hand.ts. */
export const HAND_LENGTH = 6 + DELAY_TICKS;
