import type { z } from "zod";
import { list, nameText, plain, quantity as q, section } from "./quantity.ts";

const table = (about: string) =>
	list(
		list(plain("Factor", { atLeast: 0, atMost: 1000 }), "One factor per load", 1, 12),
		`${about}: one row per angle; left out: all 1`,
		1,
		24,
	).optional();

const rateFactors = { kp: table("On kp"), ki: table("On ki"), kd: table("On kd") };

/** Factors on a gain set's own gains over the limb's pose and the load. */
export const scheduleSchema = section(
	{
		hinge: nameText.optional(),
		angles: list(
			q("angle", { atLeast: -7, atMost: 7 }),
			"Breakpoints of that hinge, from folded, ascending; left out: the pose changes nothing",
			1,
			24,
		).optional(),
		loads: list(
			q("mass", { above: undefined, atLeast: 0 }),
			"Breakpoints of the load that the firmware knows of, ascending; left out: it changes nothing",
			1,
			12,
		).optional(),
		roll: section({ kAngle: table("On kAngle"), ...rateFactors }).optional(),
		pitch: section({ kAngle: table("On kAngle"), ...rateFactors }).optional(),
		yaw: section(rateFactors).optional(),
	},
	"Gains that follow the reach arm and the load: each gain times a factor that goes over smoothly between breakpoints",
);

export type ScheduleInput = z.infer<typeof scheduleSchema>;
