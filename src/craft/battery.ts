import { formatQuantity } from "../units/format.ts";
import type { BatteryInput } from "./input.ts";
import type { Battery } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";

/** Typical lithium polymer cell at rest: state of charge and volts. Common practice, no source. */
export const TYPICAL_CELL: readonly (readonly [number, number])[] = [
	[0, 3.27],
	[0.05, 3.61],
	[0.1, 3.69],
	[0.2, 3.73],
	[0.3, 3.77],
	[0.4, 3.79],
	[0.5, 3.82],
	[0.6, 3.87],
	[0.7, 3.92],
	[0.8, 4.02],
	[0.9, 4.11],
	[1, 4.2],
];

/** Cells in series by propeller size where none are given. */
export function resolveCells(input: BatteryInput | undefined, diameterM: number, notes: Notes): number {
	const cells = diameterM < 0.11 ? 3 : diameterM < 0.36 ? 4 : 6;
	return notes.assumeWord(input?.cells, cells, {
		path: "craft.battery.cells",
		value: `${cells} in series`,
		because: `usual for ${formatQuantity("length", diameterM)} propellers; only the ratio of voltages enters thrust`,
		source: COMMON,
		measure: "read the battery's label",
	});
}

/** Volts of one cell at rest, half full: what 'nominal' means. */
export function nominalCellV(input: BatteryInput | undefined): number {
	const table = input?.openCircuit?.map((p) => [p.charge, p.cellVoltage] as const) ?? TYPICAL_CELL;
	const at = input?.nominal ?? 0.5;
	const above = table.findIndex(([charge]) => charge >= at);
	if (above <= 0) return table[Math.max(above, 0)]?.[1] ?? 3.82;
	const [c0, v0] = table[above - 1]!;
	const [c1, v1] = table[above]!;
	return v0 + ((v1 - v0) * (at - c0)) / (c1 - c0);
}

/**
 * @param hoverShaftW shaft power of all rotors in hover, for the default capacity.
 * @param measuredEfficiency by the bench table's current; null where it has none.
 */
export function resolveBattery(
	input: BatteryInput | undefined,
	cells: number,
	hoverShaftW: number,
	measuredEfficiency: number | null,
	notes: Notes,
): Battery {
	if (measuredEfficiency !== null && input?.efficiency !== undefined)
		notes.problem(
			"craft.battery.efficiency",
			input.efficiency,
			"nothing here, since the bench table's current says it",
			"or leave 'current' out of the table",
		);
	const efficiency = notes.assume(measuredEfficiency ?? input?.efficiency, "fraction", {
		path: "craft.battery.efficiency",
		value: 0.72,
		because: "shaft power over battery power, motor and speed controller together (seen: 0.6 to 0.85)",
		source: COMMON,
		measure: "thrust stand with torque, speed, voltage and current",
	});
	const volts = cells * nominalCellV(input);
	const capacity = notes.assume(input?.capacity, "charge", {
		path: "craft.battery.capacity",
		value: Number((hoverShaftW / efficiency / volts / 4).toPrecision(2)),
		because: "enough for about 12 minutes of hover down to 20 %",
		source: COMMON,
		measure: "read the battery's label",
	});
	const table = openCircuit(input, cells, notes);
	const battery: Battery = {
		...table,
		capacityAmpereHours: capacity,
		efficiency,
		resistanceOhm: notes.assume(input?.resistance, "resistance", {
			path: "craft.battery.resistance",
			value: (cells * 0.015) / capacity + 0.005,
			because: "0.015 ohm Ah per cell over the capacity, and 5 mohm of leads and plugs",
			source: COMMON,
			measure: "voltage at rest and under a known current: difference over current",
		}),
		avionicsPowerW: notes.assume(input?.electronicsPower, "power", {
			path: "craft.battery.electronicsPower",
			value: 5,
			because: "controller, receiver, sensors",
			source: COMMON,
			measure: "a meter in the battery lead, motors standing",
		}),
		brownOutV: notes.assume(input?.brownOut, "voltage", {
			path: "craft.battery.brownOut",
			value: 2.8 * cells,
			because: "2.8 V per cell: speed controllers and regulators give up about there",
			source: COMMON,
			measure: "the cut-off in the speed controller's sheet; the regulator's least input",
		}),
		...namedCharges(input, notes),
	};
	if (battery.brownOutV >= table.openCircuitV[table.openCircuitV.length - 1]!)
		notes.problem(
			"craft.battery.brownOut",
			input?.brownOut,
			`below the full battery's ${table.openCircuitV[table.openCircuitV.length - 1]!.toPrecision(4)} V`,
		);
	return battery;
}

function openCircuit(
	input: BatteryInput | undefined,
	cells: number,
	notes: Notes,
): Pick<Battery, "stateOfCharge" | "openCircuitV"> {
	input?.openCircuit?.forEach((point, i, all) => {
		const last = all[i - 1];
		for (const key of ["charge", "cellVoltage"] as const)
			if (last !== undefined && !(point[key] > last[key]))
				notes.problem(
					`craft.battery.openCircuit[${i}].${key}`,
					point[key],
					`above the value before it, ${last[key]}`,
				);
	});
	const cell = notes.assumeWord(
		input?.openCircuit?.map((p) => [p.charge, p.cellVoltage] as const),
		TYPICAL_CELL,
		{
			path: "craft.battery.openCircuit",
			value: `${cells} x 3.27 V empty, 3.82 V half, 4.20 V full`,
			because: "a typical lithium polymer cell at rest",
			source: COMMON,
			measure: "a meter on the balance plug after some minutes of rest, at several states of charge",
		},
	);
	return { stateOfCharge: cell.map(([charge]) => charge), openCircuitV: cell.map(([, v]) => v * cells) };
}

function namedCharges(
	input: BatteryInput | undefined,
	notes: Notes,
): Pick<Battery, "full" | "nominal" | "nearlyEmpty"> {
	const full = input?.full ?? 1;
	const nominal = input?.nominal ?? 0.5;
	const nearlyEmpty = notes.assume(input?.nearlyEmpty, "fraction", {
		path: "craft.battery.nearlyEmpty",
		value: 0.15,
		because: "where a careful pilot has landed; worst case for thrust",
		source: COMMON,
		measure: "what is left when you land: capacity less what the charger puts back",
	});
	if (!(nearlyEmpty < nominal && nominal < full))
		notes.problem("craft.battery.nominal", nominal, `between nearlyEmpty ${nearlyEmpty} and full ${full}`);
	return { full, nominal, nearlyEmpty };
}
