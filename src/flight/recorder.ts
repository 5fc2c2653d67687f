import { OUT } from "../control/signals.ts";
import { anyTouches, type Contacts } from "../physics/contact-law.ts";
import { batteryVoltage, bodyRates, type Kernel, ROTORS } from "../physics/kernel-layout.ts";
import type { Layout } from "./layout.ts";
import { TRACE_COLUMNS, type Trace } from "./result.ts";
import { eulerAngles } from "./sensors.ts";

export interface Recorder {
	/** One row from the flight's flat state and the controller's last output. Allocates nothing. */
	record(timeUs: number, s: Float64Array, x: Float64Array, output: Float64Array): void;
	trace(): Trace;
}

/** Columns beside those that every flight has. */
interface MoreColumns {
	readonly columns: readonly string[];
	/**
	 * @param x the kernel's state
	 * @param own what the limb keeps in the flight's state
	 */
	write(x: Float64Array, own: Float64Array, row: Float64Array, at: number): void;
}

interface Columns {
	/** To keep; null: all. */
	readonly wanted: readonly string[] | null;
	readonly more: MoreColumns | null;
	readonly own: Float64Array;
	/** Contacts that stand on the ground, in `own`: the feet, none where nothing can touch. */
	readonly feet: Pick<Contacts, "count" | "ownAt">;
}

/** @throws RangeError for a wanted name that is none */
export function createRecorder(
	kernel: Kernel,
	layout: Layout,
	rows: number,
	{ wanted, more, own, feet }: Columns,
): Recorder {
	const n = kernel.rotorCount;
	const usual = TRACE_COLUMNS.filter(({ limb }) => !limb).flatMap((c) =>
		c.perRotor ? Array.from({ length: n }, (_, i) => `${c.name}${i}`) : [c.name],
	);
	const names = [...usual, ...(more?.columns ?? [])];
	const unknown = wanted?.find((name) => !names.includes(name));
	if (unknown !== undefined)
		throw new RangeError(`flight: trace column '${unknown}', expected of ${names.join(", ")}`);
	const kept = Int32Array.from(names.keys()).filter((i) => wanted === null || wanted.includes(names[i]!));
	const columns = Array.from(kept, () => new Float64Array(rows));
	const row = new Float64Array(names.length);
	let length = 0;
	return {
		record(timeUs, s, x, output) {
			if (length >= rows) return;
			row[0] = timeUs * 1e-6;
			row[1] = s[layout.angleSetPoint]!;
			row[2] = s[layout.angleSetPoint + 1]!;
			eulerAngles(x, row, 3);
			for (let i = 0; i < 3; i++) {
				row[6 + i] = output[OUT.rateSetPoint + i]!;
				row[12 + i] = s[layout.rates + i]!;
				row[15 + i] = output[OUT.u + i]!;
				row[18 + i] = output[OUT.integral + i]!;
				row[22 + i] = x[i]!;
				row[25 + i] = x[3 + i]!;
			}
			bodyRates(kernel, x, rates);
			for (let i = 0; i < 3; i++) row[9 + i] = rates[i]!;
			row[21] = s[layout.throttle]!;
			row[28] = batteryVoltage(kernel, x);
			// What holds the craft is then the ground, whatever the motors are told.
			row[29] = anyTouches(feet, own) ? 0 : output[OUT.saturated]!;
			for (let i = 0; i < n; i++) {
				row[30 + i] = s[layout.applied + i]!;
				row[30 + n + i] = x[ROTORS + i]!;
			}
			more?.write(x, own, row, usual.length);
			for (let i = 0; i < kept.length; i++) columns[i]![length] = row[kept[i]!]!;
			length++;
		},
		trace: () => ({
			length,
			columns: Object.fromEntries(columns.map((column, i) => [names[kept[i]!]!, column.slice(0, length)])),
		}),
	};
}

const rates = new Float64Array(3);
