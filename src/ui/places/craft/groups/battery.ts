import { TYPICAL_CELL } from "../../../../craft/battery.ts";
import { formatQuantity } from "../../../../units/format.ts";
import { type FieldGroup, plain, quantity } from "../craft-field.ts";

export const BATTERY: FieldGroup = {
	title: "Battery",
	about: "What it gives, and where the electronics give up.",
	sections: [
		{
			title: "Battery",
			fields: [
				plain("whole", "craft.battery.cells", "Cells in series"),
				quantity("craft.battery.capacity", "charge", "Capacity"),
				quantity("craft.battery.resistance", "resistance", "Inner resistance"),
				quantity("craft.battery.efficiency", "fraction", "Shaft power over battery power"),
				quantity("craft.battery.electronicsPower", "power", "Electronics draw"),
				quantity("craft.battery.brownOut", "voltage", "Electronics give up below"),
				quantity("craft.battery.full", "fraction", "'Full' is a charge of", {
					otherwise: (s) => formatQuantity("fraction", s.craft.battery.full),
				}),
				quantity("craft.battery.nominal", "fraction", "'Nominal' is", {
					otherwise: (s) => formatQuantity("fraction", s.craft.battery.nominal),
				}),
				quantity("craft.battery.nearlyEmpty", "fraction", "'Nearly empty' is"),
				{
					as: "table",
					path: "craft.battery.openCircuit",
					label: "One cell at rest",
					about: "Voltage by state of charge, both rising.",
					row: "point",
					columns: [
						{ key: "charge", label: "charge", of: "fraction" },
						{ key: "cellVoltage", label: "voltage of a cell", of: "voltage" },
					],
					least: 2,
					most: 200,
					rising: true,
					begin: () =>
						TYPICAL_CELL.map(([charge, voltage]) => ({
							charge: formatQuantity("fraction", charge),
							cellVoltage: formatQuantity("voltage", voltage),
						})),
				},
			],
		},
		{
			title: "Regulator that feeds the electronics",
			fields: [
				quantity("craft.supply.output", "voltage", "Its output", {
					assumedAt: "craft.supply",
					otherwise: (s) => formatQuantity("voltage", s.craft.supply.outputV),
				}),
				quantity("craft.supply.dropout", "voltage", "Battery must be above that by", {
					otherwise: (s) => formatQuantity("voltage", s.craft.supply.dropoutV),
				}),
				quantity("craft.supply.limit", "current", "Most that it gives", {
					otherwise: (s) => formatQuantity("current", s.craft.supply.limitA),
				}),
				quantity("craft.supply.brownOut", "voltage", "Controller restarts below", {
					otherwise: (s) => formatQuantity("voltage", s.craft.supply.brownOutV),
				}),
			],
		},
	],
};
