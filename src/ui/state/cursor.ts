import { signal } from "@preact/signals";

/** The instant of the flight that is pointed at, in seconds; null: none yet. Pictures, tables and the replay follow it. */
export const cursorSec = signal<number | null>(null);

/** The replay moves the cursor on by itself. */
export const playing = signal(false);

export const STEP_SEC = 0.02;

/** Someone takes the cursor: a replay that plays stops there. */
export function pointAt(timeSec: number): void {
	playing.value = false;
	cursorSec.value = timeSec;
}

/** A mouse that only passes: it does not stop a replay that plays. */
export function passOver(timeSec: number): void {
	if (!playing.peek()) cursorSec.value = timeSec;
}

/** Where a key takes the cursor; null for a key that does not. */
export function keyedTime(key: string, large: boolean, nowSec: number, endSec: number): number | null {
	const step = STEP_SEC * (large ? 10 : 1);
	const to = {
		ArrowRight: nowSec + step,
		ArrowUp: nowSec + step,
		ArrowLeft: nowSec - step,
		ArrowDown: nowSec - step,
		PageUp: nowSec + 0.5,
		PageDown: nowSec - 0.5,
		Home: 0,
		End: endSec,
	}[key];
	return to === undefined ? null : Math.max(0, Math.min(endSec, to));
}
