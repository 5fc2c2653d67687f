import { craftMixer } from "../../../../physics/mixer-at.ts";
import { formatQuantity } from "../../../../units/format.ts";
import { type FieldGroup, quantity, yesNo } from "../craft-field.ts";

const TIME = { of: "time", optional: true } as const;

export const FIRMWARE: FieldGroup = {
	title: "Your code's limits, sticks and safety",
	about: "What your code does around the loop.",
	sections: [
		{
			title: "Mixer",
			fields: [
				quantity("craft.mixer.lowestSpin", "fraction", "Lowest spin while live"),
				quantity("craft.mixer.throttleRiseCap", "fraction", "Throttle may be raised for roll and pitch by", {
					otherwise: (s) => formatQuantity("fraction", s.craft.mixer.throttleRiseCap),
				}),
				quantity("craft.mixer.thrustLinearisation", "fraction", "Thrust linearisation", {
					otherwise: (s) => formatQuantity("fraction", s.craft.mixer.thrustLinearisation),
				}),
				yesNo("craft.mixer.batteryCompensation", "Commands rise as the battery sags", {
					otherwise: "no, unless said",
				}),
				{
					as: "table",
					path: "craft.mixer.table",
					label: "Mixer table",
					about: "As in your code, one row per rotor; roll right, nose up and clockwise are positive.",
					row: "rotor",
					rowName: (s, i) => s.craft.rotors[i]?.place ?? `rotor ${i + 1}`,
					columns: ["roll", "pitch", "yaw"].map((label, key) => ({ key, label, of: "number" })),
					least: 4,
					most: 8,
					begin: ({ craft }) => {
						const { table } = craftMixer(craft);
						return craft.rotors.map((_, i) => [0, 1, 2].map((k) => Number(table[3 * i + k]!.toPrecision(5))));
					},
				},
			],
		},
		{
			title: "Sticks",
			fields: [
				quantity("craft.sticks.fullTilt", "angle", "Full tilt stick"),
				quantity("craft.sticks.fullTurnRate", "turnRate", "Full turn-rate stick"),
				quantity("craft.sticks.fullTiltRate", "turnRate", "Full tilt stick, where it asks for a rate", {
					otherwise: (s) => formatQuantity("turnRate", s.craft.sticks.fullTiltRateRadPerSec),
				}),
				{
					as: "matrix",
					path: "craft.sticks",
					label: "What the receiver reads",
					about: "Reversed: the reading falls as the stick moves up or right.",
					rows: ["roll", "pitch", "yaw", "throttle"],
					columns: [
						{ key: "low", label: "low", ...TIME },
						{ key: "centre", label: "centre", ...TIME },
						{ key: "high", label: "high", ...TIME },
						{ key: "deadBand", label: "dead band", of: "fraction", optional: true },
						{ key: "centreSoftness", label: "centre softness", of: "fraction", optional: true },
						{ key: "reverse", label: "reversed", of: "yes or no", optional: true },
					],
				},
			],
		},
		{
			title: "Safety",
			fields: [
				quantity("craft.safety.signalLostAfter", "time", "Signal counts as lost after"),
				{ as: "signal loss", path: "craft.safety.onSignalLoss", label: "Without signal your code" },
				quantity("craft.safety.liveBelowThrottle", "fraction", "Made live only below a throttle of", {
					otherwise: "any",
				}),
				quantity("craft.safety.liveBelowTilt", "angle", "And only below a tilt of", { otherwise: "any" }),
			],
		},
	],
};
