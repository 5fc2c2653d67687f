import type { DrillEvent } from "./drill.ts";
import type { Layout } from "./layout.ts";

/**
 * Sensors that say something else than they see. Kept at layout.faults: how many freezes of the gyro and of attitude are under
 * way, what is added to rates (3) and angles (3), what was said last: rates (3), angles (3).
 */
const ADDED = 2;
const SAID = 8;

export interface Faults {
	/** What the loop holds now is what was said last. */
	begin(): void;
	serve(event: Extract<DrillEvent, { kind: "frozen" | "glitch" }>, ends: boolean): void;
	/** A fresh gyro sample at s[at..+2]: what it says instead. Allocates nothing. */
	gyro(at: number): void;
	/** A fresh attitude sample at s[at..+2]. */
	angles(at: number): void;
}

const AXIS = { roll: 0, pitch: 1, yaw: 2 } as const;

export function createFaults(layout: Layout, s: Float64Array): Faults {
	const base = layout.faults;
	const say = (at: number, kind: 0 | 1): void => {
		const frozen = s[base + kind]! > 0;
		const added = base + ADDED + 3 * kind;
		const said = base + SAID + 3 * kind;
		for (let i = 0; i < 3; i++) {
			if (frozen) s[at + i] = s[said + i]!;
			else {
				s[at + i]! += s[added + i]!;
				s[said + i] = s[at + i]!;
			}
		}
	};
	return {
		begin() {
			for (let i = 0; i < 3; i++) {
				s[base + SAID + i] = s[layout.rates + i]!;
				s[base + SAID + 3 + i] = s[layout.angles + i]!;
			}
		},
		serve(event, ends) {
			const kind = event.sensor === "gyro" ? 0 : 1;
			if (event.kind === "frozen") s[base + kind]! += ends ? -1 : 1;
			else s[base + ADDED + 3 * kind + AXIS[event.axis]]! += ends ? -event.size : event.size;
		},
		gyro: (at) => say(at, 0),
		angles: (at) => say(at, 1),
	};
}
