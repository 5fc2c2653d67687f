import type { Scenario } from "../../../../scenario/model.ts";
import { formatQuantity } from "../../../../units/format.ts";
import { type FieldGroup, plain, quantity, vector } from "../craft-field.ts";

const FREE = {
	word: "free",
	about: "After the loop's tick; 'free' where the clocks are not tied: the worst is taken.",
};
const ABOUT = ["roll", "pitch", "yaw"];

const pulseTime = ({ craft }: Scenario, key: "shortestUs" | "longestUs" | "resolutionUs"): string =>
	craft.timing.pulse.kind === "width" ? `${craft.timing.pulse[key]} us` : "";

export const TIMING: FieldGroup = {
	title: "Sensors and timing",
	about: "Every wait between a tilt and the thrust that answers it. Rates or periods, as you know them.",
	sections: [
		{
			title: "Your loop",
			fields: [
				quantity("craft.timing.loop", "period", "Loop rate"),
				quantity("craft.timing.jitter", "time", "Jitter of the loop", { otherwise: "none" }),
				quantity("craft.timing.skipChance", "fraction", "Ticks skipped", { otherwise: "none" }),
				quantity("craft.timing.compute", "time", "Computing, tick to command"),
			],
		},
		{
			title: "Gyro",
			fields: [
				quantity("craft.timing.gyro.period", "period", "Gyro sampled every"),
				quantity("craft.timing.gyro.phase", "time", "Gyro sampled after the tick by", FREE),
				quantity("craft.timing.gyro.bus", "time", "Gyro read-out"),
				quantity("craft.sensors.gyroLowPass", "frequency", "Gyro low-pass", {
					word: "none",
					about: "Or 'none'.",
				}),
				quantity("craft.sensors.gyroNoise", "noiseDensity", "Gyro noise"),
				quantity("craft.sensors.vibration", "turnRate", "Vibration in the gyro, per rotor"),
				quantity("craft.sensors.gyroResolution", "turnRate", "Gyro resolution"),
				vector(
					"craft.sensors.gyroBias",
					"turnRate",
					"Gyro offset about",
					ABOUT,
					(s) => s.craft.sensors.gyroBiasRadPerSec,
				),
			],
		},
		{
			title: "Angles",
			fields: [
				{
					as: "kind",
					path: "craft.timing.attitude",
					key: "source",
					label: "Angles come from",
					options: [
						{ label: "your loop, at every gyro sample", value: "loop", keys: [] },
						{
							label: "a sensor that fuses on board",
							value: "fused",
							keys: ["period", "phase", "latency"],
						},
					],
				},
				quantity("craft.timing.attitude.period", "period", "Angles sampled every", { onlyFor: "fused" }),
				quantity("craft.timing.attitude.phase", "time", "Angles sampled after the tick by", {
					...FREE,
					onlyFor: "fused",
				}),
				quantity("craft.timing.attitude.latency", "time", "Angles arrive late by", { onlyFor: "fused" }),
				quantity("craft.sensors.attitudeNoise", "angle", "Noise of the angles"),
				quantity("craft.sensors.estimatorTimeConstant", "time", "Estimator's time constant", {
					word: "none",
					otherwise: "none",
					about: "How slowly the accelerometer corrects the gyro; or 'none'.",
				}),
				vector(
					"craft.sensors.levelOffset",
					"angle",
					"Level is off by",
					["roll", "pitch"],
					(s) => s.craft.sensors.levelOffsetRad,
				),
			],
		},
		{
			title: "Speed controllers and receiver",
			fields: [
				quantity("craft.timing.frame.period", "period", "Speed controller's frame"),
				quantity("craft.timing.frame.phase", "time", "Frame begins after the tick by", FREE),
				{
					as: "kind",
					path: "craft.timing.pulse",
					key: "kind",
					label: "Commands are sent as",
					options: [
						{ label: "the width of a pulse", value: "width", keys: ["shortest", "longest", "resolution"] },
						{ label: "digital messages", value: "digital", keys: ["transport", "steps"] },
					],
				},
				quantity("craft.timing.pulse.shortest", "time", "Shortest pulse", {
					onlyFor: "width",
					otherwise: (s) => pulseTime(s, "shortestUs"),
				}),
				quantity("craft.timing.pulse.longest", "time", "Longest pulse", {
					onlyFor: "width",
					otherwise: (s) => pulseTime(s, "longestUs"),
				}),
				quantity("craft.timing.pulse.resolution", "time", "Step of the pulse", {
					onlyFor: "width",
					otherwise: (s) => pulseTime(s, "resolutionUs"),
				}),
				quantity("craft.timing.pulse.transport", "time", "Length of a message", { onlyFor: "digital" }),
				plain("whole", "craft.timing.pulse.steps", "Steps from 0 to full", {
					onlyFor: "digital",
					otherwise: ({ craft: { timing } }) =>
						timing.pulse.kind === "digital" ? String(timing.pulse.steps) : "",
				}),
				quantity("craft.timing.receiver.period", "period", "Receiver's frame"),
				quantity("craft.timing.receiver.phase", "time", "Receiver's frame after the tick by", {
					...FREE,
					otherwise: (s) => formatQuantity("time", Number(s.craft.timing.receiver.phaseUs) * 1e-6 || 0),
				}),
			],
		},
	],
};
