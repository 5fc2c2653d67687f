import type { LedgerEntry } from "../../../analysis/report-types.ts";
import type { KindName } from "../../../units/kinds.ts";

/** One stretch of the latency line. */
export interface Segment {
	readonly name: string;
	readonly short: string;
	readonly sec: number;
	/** 'delay': the value comes that much later; 'lag': it fades in with this time constant. */
	readonly kind: "delay" | "lag";
	/** Phase it costs at crossover, degrees; negative costs. */
	readonly degrees: number | null;
	/** What makes it longer or shorter; null: nothing that is one number. */
	readonly edit: SegmentEdit | null;
}

interface SegmentEdit {
	readonly path: string;
	readonly kind: KindName;
	readonly label: string;
	/** Where an assumed value stands in the notes, if not at the path itself. */
	readonly assumedAt?: string;
	/** The document's text for a segment of this length. */
	toText(sec: number): string;
}

const ms = (sec: number): string => `${Number((1e3 * sec).toPrecision(3))} ms`;
const us = (sec: number): string => `${Math.max(1, Math.round(1e6 * sec))} us`;

/** A mean wait is half the period, a hold as well. */
const half = (path: string, label: string): SegmentEdit => ({
	path,
	kind: "period",
	label,
	toText: (sec) => us(Math.max(50e-6, 2 * sec)),
});
const whole = (path: string, label: string, assumedAt?: string): SegmentEdit => ({
	path,
	kind: "time",
	label,
	...(assumedAt ? { assumedAt } : {}),
	toText: (sec) => (sec < 1e-3 ? us(sec) : ms(sec)),
});

/** What each element of the phase ledger is called on the line, and which number of the craft it comes from. */
const ELEMENTS: Readonly<Record<string, { readonly short: string; readonly edit: SegmentEdit | null }>> = {
	"gyro low-pass": {
		short: "low-pass",
		edit: {
			path: "craft.sensors.gyroLowPass",
			kind: "frequency",
			label: "gyro low-pass",
			toText: (sec) => `${Number((1 / (2 * Math.PI * Math.max(sec, 1e-5))).toPrecision(3))} Hz`,
		},
	},
	"age of the gyro sample": { short: "sample", edit: half("craft.timing.gyro.period", "gyro sample period") },
	"gyro read-out": { short: "bus", edit: whole("craft.timing.gyro.bus", "gyro bus time") },
	computing: { short: "compute", edit: whole("craft.timing.compute", "computing time") },
	"waiting for the speed controller's frame": {
		short: "frame",
		edit: half("craft.timing.frame.period", "speed controller frame"),
	},
	"command held between ticks": { short: "tick", edit: half("craft.timing.loop", "loop period") },
	"pulse or frame to the speed controller": { short: "pulse", edit: null },
};

/** Of the two motor lags the one that the answer took. */
const motorEdit = (slowing: boolean): SegmentEdit =>
	slowing
		? whole("craft.motors.lagDown", "motor lag, slowing down")
		: whole("craft.motors.lagUp", "motor lag, speeding up");

/** The line from tilt to thrust: everything of the ledger that takes time, in the chain's order. */
export function segmentsOf(
	ledger: readonly LedgerEntry[],
	lags: { readonly motorLagSec: number; readonly gyroLowPassSec: number | null },
	/** Whether the motor lag that counts is that of slowing down. */
	slowing: boolean,
): Segment[] {
	return ledger.flatMap((entry): Segment[] => {
		const known =
			entry.element === "motor lag" ? { short: "motor", edit: motorEdit(slowing) } : ELEMENTS[entry.element];
		const filter = /low-pass at ([\d.]+) Hz|notch at ([\d.]+) Hz/.test(entry.element);
		if (!known && !filter) return [];
		const lagSec =
			entry.element === "motor lag"
				? lags.motorLagSec
				: entry.element === "gyro low-pass"
					? (lags.gyroLowPassSec ?? 0)
					: null;
		return [
			{
				name: entry.element,
				short: known?.short ?? "filter",
				sec: entry.delaySec ?? lagSec ?? 0,
				kind: entry.delaySec === null ? "lag" : "delay",
				degrees: entry.degrees,
				edit: known?.edit ?? null,
			},
		];
	});
}
