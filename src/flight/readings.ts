import type { Timing } from "../craft/model.ts";
import type { Faults } from "./faults.ts";
import { COUNT, EVENT, type Layout } from "./layout.ts";
import { noteDue, push, shift } from "./ring.ts";
import type { SensorModel } from "./sensors.ts";

/** Samples of gyro and attitude under way to the loop, and their arrival. Allocates nothing. */
export interface Readings {
	sampleGyro(timeUs: number): void;
	gyroArrives(): void;
	sampleAttitude(timeUs: number): void;
	attitudeArrives(): void;
}

export interface ReadingsNeed {
	readonly timing: Timing;
	readonly layout: Layout;
	/** The flight's flat state; the kernel's x, due times and counters are parts of it. */
	readonly s: Float64Array;
	readonly x: Float64Array;
	readonly next: Float64Array;
	readonly counts: Float64Array;
	readonly sensors: SensorModel;
	readonly faults: Faults;
	readonly gyroPhaseUs: number;
	readonly attitudePhaseUs: number;
}

/** The state must have been brought to the time of a sample before it is taken. */
export function createReadings(need: ReadingsNeed): Readings {
	const { timing, layout, s, x, next, counts, sensors, faults, gyroPhaseUs, attitudePhaseUs } = need;
	const fused = timing.attitude.kind === "fused" ? timing.attitude : null;
	return {
		sampleGyro(timeUs) {
			const slot = push(s, layout.gyroRing, timeUs + timing.gyroBusUs);
			sensors.gyro(x, s, slot + 1);
			faults.gyro(slot + 1);
			if (!fused) {
				sensors.angles(x, s, slot + 4);
				faults.angles(slot + 4);
			}
			counts[COUNT.gyro]! += 1;
			next[EVENT.gyro] = gyroPhaseUs + counts[COUNT.gyro]! * timing.gyro.periodUs;
			noteDue(s, layout.gyroRing, next, EVENT.gyroArrival);
		},
		gyroArrives() {
			const slot = shift(s, layout.gyroRing);
			for (let i = 0; i < 3; i++) s[layout.rates + i] = s[slot + 1 + i]!;
			if (!fused) for (let i = 0; i < 3; i++) s[layout.angles + i] = s[slot + 4 + i]!;
			s[layout.gyroSampleUs] = s[slot]! - timing.gyroBusUs;
			noteDue(s, layout.gyroRing, next, EVENT.gyroArrival);
		},
		sampleAttitude(timeUs) {
			if (!fused) return;
			const slot = push(s, layout.attitudeRing, timeUs + fused.latencyUs);
			sensors.angles(x, s, slot + 1);
			faults.angles(slot + 1);
			counts[COUNT.attitude]! += 1;
			next[EVENT.attitude] = attitudePhaseUs + counts[COUNT.attitude]! * fused.clock.periodUs;
			noteDue(s, layout.attitudeRing, next, EVENT.attitudeArrival);
		},
		attitudeArrives() {
			const slot = shift(s, layout.attitudeRing);
			for (let i = 0; i < 3; i++) s[layout.angles + i] = s[slot + 1 + i]!;
			noteDue(s, layout.attitudeRing, next, EVENT.attitudeArrival);
		},
	};
}
