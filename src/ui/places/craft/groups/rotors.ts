import { formatQuantity } from "../../../../units/format.ts";
import { choice, type FieldGroup, plain, quantity } from "../craft-field.ts";

const LISTED = "craft.rotors";
const MEASURED = "craft.motors.bench";

export const ROTORS: FieldGroup = {
	title: "Rotors and motors",
	about:
		"Where they stand and which way they spin; one motor with its propeller: how hard it pushes, how fast it answers.",
	sections: [
		{
			title: "Places",
			fields: [
				choice(
					"craft.layout",
					"Where the rotors are",
					["X", "plus", "hex", "hex plus", "octo", "octo plus"],
					{ unless: LISTED },
				),
				quantity("craft.wheelbase", "length", "Hub to hub, across the centre", { unless: LISTED }),
				choice("craft.frontRightSpin", "First rotor, seen from above", ["clockwise", "counter-clockwise"], {
					unless: LISTED,
				}),
				quantity("craft.rotorHeight", "length", "Propellers above the reference point", { unless: LISTED }),
				{
					as: "vector",
					path: "craft.motorNumbers",
					of: "whole",
					label: "Your own motor numbers",
					parts: (s) => s.craft.rotors.map((rotor) => rotor.place),
					now: (s) => s.craft.rotors.map((rotor) => rotor.motorNumber),
					unless: LISTED,
				},
				{ as: "rotors", path: LISTED, label: "Rotors one by one" },
			],
		},
		{
			title: "Propeller",
			fields: [
				quantity("craft.propeller.diameter", "length", "Propeller, tip to tip"),
				quantity("craft.propeller.mass", "mass", "Propeller's mass"),
				plain("whole", "craft.propeller.blades", "Blades"),
				quantity("craft.propeller.chord", "length", "Mean blade width"),
				plain("number", "craft.propeller.thrustNumber", "CT of its maker", {
					about: "In T = CT rho n\u00b2 D\u2074.",
				}),
				plain("number", "craft.propeller.powerNumber", "CP of its maker", {
					about: "In P = CP rho n\u00b3 D\u2075.",
				}),
			],
		},
		{
			title: "Motor",
			fields: [
				quantity("craft.motors.maxThrust", "force", "Most thrust of one motor", {
					about: "Grams of force are understood.",
					unless: MEASURED,
				}),
				quantity("craft.motors.maxSpeed", "rotorSpeed", "Speed at full command", {
					unless: MEASURED,
					otherwise: ({ craft: { propulsion } }) =>
						formatQuantity("rotorSpeed", propulsion.curve.speedsRadPerSec.at(-1)!),
				}),
				quantity("craft.motors.startCommand", "fraction", "Command at which it starts", { unless: MEASURED }),
				quantity("craft.motors.startSpeed", "rotorSpeed", "Speed at which it starts", { unless: MEASURED }),
				quantity("craft.motors.lagUp", "time", "Lag, speeding up", { about: "To 63 % of a step." }),
				quantity("craft.motors.lagDown", "time", "Lag, slowing down"),
				quantity("craft.motors.lag", "time", "Lag, as one number", {
					about: "Stands for speeding up where that is left empty.",
				}),
				quantity("craft.motors.thrustCoefficient", "thrustCoefficient", "Thrust coefficient", {
					otherwise: (s) => formatQuantity("thrustCoefficient", s.craft.propulsion.thrustCoefficient),
				}),
				quantity("craft.motors.torqueCoefficient", "torqueCoefficient", "Drag torque coefficient", {
					otherwise: (s) => formatQuantity("torqueCoefficient", s.craft.propulsion.torqueCoefficient),
				}),
				quantity("craft.motors.rotorInertia", "inertia", "Inertia of propeller and bell"),
				quantity("craft.motors.bellMass", "mass", "Mass of the motor's bell"),
				quantity("craft.motors.bellDiameter", "length", "Diameter of the bell"),
				quantity("craft.motors.inflowCoefficient", "inflowCoefficient", "Axial inflow"),
				quantity("craft.motors.inPlaneDragCoefficient", "inflowCoefficient", "In-plane drag"),
				quantity("craft.motors.measuredVoltage", "voltage", "Voltage that thrust was measured at"),
				quantity("craft.motors.measuredDensity", "density", "Air that thrust was measured in", {
					otherwise: (s) => formatQuantity("density", s.craft.propulsion.referenceDensityKgM3),
				}),
			],
		},
		{
			title: "Bench table of one motor",
			fields: [{ as: "bench", path: MEASURED, label: "Bench table" }],
		},
	],
};
