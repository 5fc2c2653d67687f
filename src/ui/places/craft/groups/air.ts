import { type FieldGroup, quantity } from "../craft-field.ts";

export const AIR: FieldGroup = {
	title: "Air, and how sure you are",
	about: "The air it flies in, and how well you know the numbers that worst cases are made from.",
	sections: [
		{
			title: "Air",
			fields: [
				quantity("craft.air.density", "density", "Air density", {
					about: "Or altitude and temperature.",
				}),
				quantity("craft.air.altitude", "length", "Altitude", { unless: "craft.air.density" }),
				quantity("craft.air.temperature", "temperature", "Temperature", { unless: "craft.air.density" }),
			],
		},
		{
			title: "How sure you are",
			fields: [
				{ as: "spread", path: "craft.uncertainty.inertia", label: "Inertia, give or take" },
				{ as: "spread", path: "craft.uncertainty.thrust", label: "Thrust, give or take" },
				{ as: "spread", path: "craft.uncertainty.motorLag", label: "Motor lag, give or take" },
			],
		},
	],
};
