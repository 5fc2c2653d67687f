import type { Safety } from "../craft/model.ts";
import type { Layout } from "./layout.ts";

/**
 * What the sticks ask and what reaches the loop: the same while receiver frames arrive. While they are lost the loop keeps what came
 * last, then what the firmware does on signal loss; when they come back it gets what the sticks ask by then.
 */
export interface Asked {
	/** A stick, or a set-point given directly, asks for this: entry 0..2 angles, 3..5 rates, 6 throttle. */
	ask(entry: number, value: number): void;
	/** Raw stick readings became set-points: they are what is asked from now on. */
	heard(): void;
	/** Where the throttle stick, or what was asked directly, stands. */
	readonly throttle: number;
	/** Motors asked live or safe. @returns false while frames are lost: `regain` says it then. */
	askLive(live: boolean): boolean;
	readonly lost: boolean;
	lose(): void;
	/** Frames have been missing for the firmware's own time. @returns true where motors are made safe. */
	giveUp(): boolean;
	/** @returns what was asked of the motors meanwhile. */
	regain(): "makeLive" | "makeSafe" | null;
}

export function createAsked(layout: Layout, s: Float64Array, safety: Safety): Asked {
	const places = [0, 1, 2]
		.map((i) => layout.angleSetPoint + i)
		.concat(
			[0, 1, 2].map((i) => layout.rateSetPoint + i),
			layout.throttle,
		);
	const asked = layout.asked;
	const lost = asked + places.length;
	const motors = lost + 1;
	const { onSignalLoss } = safety;
	return {
		ask(entry, value) {
			s[asked + entry] = value;
			if (s[lost] === 0) s[places[entry]!] = value;
		},
		heard() {
			for (let i = 0; i < places.length; i++) s[asked + i] = s[places[i]!]!;
		},
		get throttle() {
			return s[asked + 6]!;
		},
		askLive(live) {
			if (s[lost] === 0) return true;
			s[motors] = live ? 1 : -1;
			return false;
		},
		get lost() {
			return s[lost]! > 0;
		},
		lose() {
			s[lost]! += 1;
		},
		giveUp() {
			if (s[lost] === 0 || onSignalLoss === "keep") return false;
			if (onSignalLoss === "makeSafe") return true;
			for (let i = 0; i < 6; i++) s[places[i]!] = 0;
			s[layout.throttle] = onSignalLoss.throttle;
			return false;
		},
		regain() {
			s[lost]! -= 1;
			if (s[lost]! > 0) return null;
			for (let i = 0; i < places.length; i++) s[places[i]!] = s[asked + i]!;
			const meant = s[motors]!;
			s[motors] = 0;
			return meant > 0 ? "makeLive" : meant < 0 ? "makeSafe" : null;
		},
	};
}
