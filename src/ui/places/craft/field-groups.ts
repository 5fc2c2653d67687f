import type { QuantityFieldProps } from "../../widgets/quantity-field.tsx";

type Field = Omit<QuantityFieldProps, "assumedAt"> & { readonly assumedAt?: string };

export interface FieldGroup {
	readonly title: string;
	readonly about: string;
	readonly fields: readonly Field[];
}

/** Every single number of a craft, grouped as a builder thinks. Lists (parts, rotors, bench tables) have editors of their own. */
export const FIELD_GROUPS: readonly FieldGroup[] = [
	{
		title: "Airframe",
		about: "What it weighs and how large it is. With parts written down, mass and inertia come from them.",
		fields: [
			{ path: "craft.mass", kind: "mass", label: "Mass, ready to fly", about: "Battery in, no load." },
			{ path: "craft.wheelbase", kind: "length", label: "Hub to hub, across the centre" },
			{ path: "craft.rotorHeight", kind: "length", label: "Propellers above the reference point" },
			{ path: "craft.airframe.feetBelow", kind: "length", label: "Feet below the reference point" },
			{ path: "craft.airframe.span", kind: "length", label: "Tip to tip", about: "For turbulence." },
			{ path: "craft.load.mass", kind: "mass", label: "Heaviest load" },
			{
				path: "craft.load.size",
				kind: "length",
				label: "Edge of the load",
				about: "It is taken for a cube.",
			},
		],
	},
	{
		title: "Rotors and motors",
		about: "One motor with its propeller: how hard it pushes, how fast it answers.",
		fields: [
			{ path: "craft.propeller.diameter", kind: "length", label: "Propeller, tip to tip" },
			{ path: "craft.propeller.mass", kind: "mass", label: "Propeller's mass" },
			{ path: "craft.propeller.chord", kind: "length", label: "Mean blade width" },
			{
				path: "craft.motors.maxThrust",
				kind: "force",
				label: "Most thrust of one motor",
				about: "Grams of force are understood.",
			},
			{ path: "craft.motors.maxSpeed", kind: "rotorSpeed", label: "Speed at full command" },
			{ path: "craft.motors.thrustCoefficient", kind: "thrustCoefficient", label: "Thrust coefficient" },
			{ path: "craft.motors.torqueCoefficient", kind: "torqueCoefficient", label: "Drag torque coefficient" },
			{ path: "craft.motors.rotorInertia", kind: "inertia", label: "Inertia of propeller and bell" },
			{ path: "craft.motors.bellMass", kind: "mass", label: "Mass of the motor's bell" },
			{ path: "craft.motors.bellDiameter", kind: "length", label: "Diameter of the bell" },
			{ path: "craft.motors.startCommand", kind: "fraction", label: "Command at which it starts" },
			{ path: "craft.motors.lagUp", kind: "time", label: "Lag, speeding up", about: "To 63 % of a step." },
			{ path: "craft.motors.lagDown", kind: "time", label: "Lag, slowing down" },
			{ path: "craft.motors.measuredVoltage", kind: "voltage", label: "Voltage that thrust was measured at" },
			{ path: "craft.motors.inflowCoefficient", kind: "inflowCoefficient", label: "Axial inflow" },
			{ path: "craft.motors.inPlaneDragCoefficient", kind: "inflowCoefficient", label: "In-plane drag" },
		],
	},
	{
		title: "Battery",
		about: "What it gives, and where the electronics give up.",
		fields: [
			{ path: "craft.battery.capacity", kind: "charge", label: "Capacity" },
			{ path: "craft.battery.resistance", kind: "resistance", label: "Inner resistance" },
			{ path: "craft.battery.efficiency", kind: "fraction", label: "Shaft power over battery power" },
			{ path: "craft.battery.electronicsPower", kind: "power", label: "Electronics draw" },
			{ path: "craft.battery.brownOut", kind: "voltage", label: "Electronics give up below" },
			{ path: "craft.battery.full", kind: "fraction", label: "'Full' is a charge of" },
			{ path: "craft.battery.nominal", kind: "fraction", label: "'Nominal' is" },
			{ path: "craft.battery.nearlyEmpty", kind: "fraction", label: "'Nearly empty' is" },
		],
	},
	{
		title: "Sensors and timing",
		about: "Every wait between a tilt and the thrust that answers it. Rates or periods, as you know them.",
		fields: [
			{ path: "craft.timing.loop", kind: "period", label: "Loop rate" },
			{ path: "craft.timing.jitter", kind: "time", label: "Jitter of the loop" },
			{ path: "craft.timing.skipChance", kind: "fraction", label: "Ticks skipped" },
			{ path: "craft.timing.compute", kind: "time", label: "Computing, tick to command" },
			{ path: "craft.timing.gyro.period", kind: "period", label: "Gyro sampled every" },
			{ path: "craft.timing.gyro.bus", kind: "time", label: "Gyro read-out" },
			{
				path: "craft.timing.attitude.period",
				kind: "period",
				label: "Attitude sampled every",
				assumedAt: "craft.timing.attitude",
			},
			{
				path: "craft.timing.attitude.latency",
				kind: "time",
				label: "Attitude latency",
				assumedAt: "craft.timing.attitude",
			},
			{ path: "craft.timing.frame.period", kind: "period", label: "Speed controller's frame" },
			{ path: "craft.timing.receiver.period", kind: "period", label: "Receiver's frame" },
			{ path: "craft.sensors.gyroLowPass", kind: "frequency", label: "Gyro low-pass" },
			{ path: "craft.sensors.gyroNoise", kind: "noiseDensity", label: "Gyro noise" },
			{ path: "craft.sensors.vibration", kind: "turnRate", label: "Vibration in the gyro, per rotor" },
			{ path: "craft.sensors.gyroResolution", kind: "turnRate", label: "Gyro resolution" },
			{ path: "craft.sensors.attitudeNoise", kind: "angle", label: "Attitude noise" },
			{ path: "craft.sensors.estimatorTimeConstant", kind: "time", label: "Estimator's time constant" },
		],
	},
	{
		title: "Firmware limits and sticks",
		about: "What your code does around the loop.",
		fields: [
			{ path: "craft.mixer.lowestSpin", kind: "fraction", label: "Lowest spin while live" },
			{
				path: "craft.mixer.throttleRiseCap",
				kind: "fraction",
				label: "Throttle may be raised for roll and pitch by",
			},
			{ path: "craft.mixer.thrustLinearisation", kind: "fraction", label: "Thrust linearisation" },
			{ path: "craft.sticks.fullTilt", kind: "angle", label: "Full tilt stick" },
			{ path: "craft.sticks.fullTurnRate", kind: "turnRate", label: "Full turn-rate stick" },
		],
	},
	{
		title: "Air, and how sure you are",
		about: "Relative bounds that the worst cases are made from.",
		fields: [
			{ path: "craft.air.density", kind: "density", label: "Air density" },
			{ path: "craft.air.altitude", kind: "length", label: "Altitude" },
			{ path: "craft.air.temperature", kind: "temperature", label: "Temperature" },
			{ path: "craft.uncertainty.inertia", kind: "fraction", label: "Inertia, give or take" },
			{ path: "craft.uncertainty.thrust", kind: "fraction", label: "Thrust, give or take" },
			{ path: "craft.uncertainty.motorLag", kind: "fraction", label: "Motor lag, give or take" },
		],
	},
];
