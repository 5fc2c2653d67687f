import { fixed, PRACTICE, percent, type Rule, say } from "./finding-rule.ts";

/** What can hurt, and what is no one's build. */
export const SAFETY_RULES: readonly Rule[] = [
	{
		name: "energy",
		judge: ({ worstPull }) => {
			return say(
				"care",
				`At full throttle the propellers push with ${fixed(worstPull.liftN, 0)} N even on a nearly empty battery: propellers off for every bench check, first spin-up restrained and distant.`,
				"propellers cut; a simulation is not evidence that a craft is safe",
			);
		},
	},
	{
		name: "signalLoss",
		judge: ({ craft }) => {
			const { onSignalLoss, signalLostAfterUs } = craft.safety;
			const after = `${Number((signalLostAfterUs * 1e-6).toPrecision(3))} s`;
			if (onSignalLoss === "keep")
				return say(
					"care",
					`On signal loss this craft flies on with its last sticks, ${after} later and for as long as the battery lasts.`,
					"try it with the propellers off, and say in the file what your code does (safety.onSignalLoss)",
				);
			if (onSignalLoss === "makeSafe")
				return say(
					"fine",
					`${after} after the signal is lost the motors stop: it falls where it is.`,
					PRACTICE,
				);
			return say(
				"fine",
				`${after} after the signal is lost it levels at ${percent(onSignalLoss.throttle)} throttle.`,
				"try it with the propellers off",
			);
		},
	},
	{
		name: "invented",
		judge: ({ craft }) =>
			craft.invented
				? say(
						"care",
						`Invented craft of ${fixed(craft.bare.massKg)} kg: these numbers are no one's build.`,
						"demo data",
					)
				: null,
	},
];
