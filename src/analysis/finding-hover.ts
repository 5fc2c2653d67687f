import { fixed, PRACTICE, percent, type Rule, say } from "./finding-rule.ts";

/** Whether it hovers, with what to spare and how long. */
export const HOVER_RULES: readonly Rule[] = [
	{
		name: "cannotHover",
		judge: ({ trim, whyNoHover }) =>
			trim
				? null
				: say(
						"stop",
						`This craft cannot hover here: ${whyNoHover}.`,
						"no balance of forces and torques exists",
					),
	},
	{
		name: "thrustToWeight",
		judge: ({ hover }) => {
			if (!hover) return null;
			const t = hover.thrustToWeight;
			const reason = `what is above 1 is left to climb and to correct; below 1.3 stop, below 1.8 care (${PRACTICE})`;
			if (t < 1.3)
				return say(
					"stop",
					`Thrust to weight is only ${fixed(t)}: a gust or a turn leaves nothing to hold height with.`,
					reason,
				);
			if (t < 1.8)
				return say(
					"care",
					`Thrust to weight is ${fixed(t)}: enough to hover, little to correct with.`,
					reason,
				);
			return say("fine", `Thrust to weight is ${fixed(t)}.`, reason);
		},
	},
	{
		name: "hoverStick",
		judge: ({ hover }) => {
			if (!hover) return null;
			const { stick, stickRange } = hover;
			const where = `Expect hover at ${percent(stick)} stick, ${percent(stickRange[0])} to ${percent(stickRange[1])} over battery, load and thrust uncertainty`;
			const reason = `hover between 20 and 70 % leaves room both ways (${PRACTICE})`;
			if (stickRange[1] > 0.7) return say("care", `${where}: little is left above.`, reason);
			if (stickRange[0] < 0.2)
				return say("care", `${where}: low stick is touchy and near lowest spin.`, reason);
			return say("fine", `${where}.`, reason);
		},
	},
	{
		name: "throttleSlope",
		judge: ({ hover }) => {
			if (!hover || hover.throttleSlope <= 0.4) return null;
			return say(
				"care",
				`One per cent of throttle stick lifts with ${fixed(hover.throttleSlope)} m/s^2: height is touchy by hand.`,
				`above 0.4 m/s^2 per per cent (${PRACTICE}); a softer throttle curve helps`,
			);
		},
	},
	{
		name: "brownOut",
		judge: ({ worstPull, plant }) => {
			const spare = worstPull.voltageV - plant.brownOutV;
			const what = `At full throttle on a nearly empty battery ${fixed(worstPull.voltageV)} V are left`;
			const reason = `the electronics give up below ${fixed(plant.brownOutV)} V`;
			if (worstPull.brownOut)
				return say(
					"care",
					`Full throttle on a nearly empty battery asks for more than the ${fixed(worstPull.mostPowerW, 0)} W it can give: the supply collapses.`,
					reason,
				);
			if (spare < 0)
				return say(
					"care",
					`${what}, ${fixed(-spare)} V too few: keep off full throttle late in the flight.`,
					reason,
				);
			if (spare < 0.5) return say("care", `${what}, only ${fixed(spare)} V above giving up.`, reason);
			return say("fine", `${what}, ${fixed(spare)} V above giving up.`, reason);
		},
	},
	{
		name: "lostCorners",
		judge: ({ lostCorners, trim }) => {
			if (!trim || lostCorners.length === 0) return null;
			const { name, reason } = lostCorners[0]!;
			return say(
				"care",
				`${lostCorners.length} worst-case combination${lostCorners.length > 1 ? "s" : ""} cannot hover, such as ${name}: ${reason}.`,
				"battery, load and uncertainty taken together",
			);
		},
	},
	{
		name: "endurance",
		judge: ({ hover }) => {
			if (!hover) return null;
			if (hover.enduranceMin === null)
				return say(
					"care",
					`No hover until nearly empty: ${hover.whyNoEndurance}.`,
					"the battery sags under the hover load",
				);
			const time = `Hover lasts about ${fixed(hover.enduranceMin, 1)} min from full to nearly empty`;
			return hover.enduranceMin < 4
				? say("care", `${time}: land early.`, `under 4 min (${PRACTICE})`)
				: say("fine", `${time}.`, "power over the charge curve, still air");
		},
	},
];
