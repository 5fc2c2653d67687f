import type { Craft } from "../craft/model.ts";
import { fixed, type Judgement, PRACTICE, percent, type Rule, say } from "./finding-rule.ts";

/** Spins, the balance of the motors, what holds the heading. */
export const ROTOR_RULES: readonly Rule[] = [
	{
		name: "rotorSpin",
		judge: ({ craft }) => spinFinding(craft),
	},
	{
		name: "yawAuthority",
		judge: ({ plant, trim, craft }) => {
			if (!trim) return null;
			const room = Math.min(...trim.commands.map((c) => Math.min(1 - c, c - craft.mixer.lowestSpin)));
			const turn = plant.rotors.reduce(
				(sum, r, i) => sum + r.torqueCoefficient * trim.speedsRadPerSec[i]! ** 2,
				0,
			);
			const share = Math.abs(trim.u[2]);
			if (share <= 0.05) return null;
			return say(
				"care",
				`Holding heading takes ${percent(share)} of command at hover: spins, tilts or propellers do not balance.`,
				`hover drag torque adds up to ${fixed(turn, 3)} N m over all rotors, least room is ${percent(room)}; above 5 % (${PRACTICE})`,
			);
		},
	},
	{
		name: "balance",
		judge: ({ trim, craft }) => {
			if (!trim) return null;
			const commands = Array.from(trim.commands);
			const most = commands.indexOf(Math.max(...commands));
			const least = commands.indexOf(Math.min(...commands));
			const spread = commands[most]! - commands[least]!;
			if (spread <= 0.08) return null;
			return say(
				"care",
				`At hover the ${craft.rotors[most]!.place} motor needs ${percent(commands[most]!)} and the ${craft.rotors[least]!.place} motor ${percent(commands[least]!)}: move weight away from the ${craft.rotors[most]!.place}.`,
				`commands differ by ${percent(spread)}; above 8 % (${PRACTICE})`,
			);
		},
	},
];

/** Each rotor's opposite shares its spin, and as many turn each way; from common practice. */
function spinFinding(craft: Craft): Judgement | null {
	const { rotors } = craft;
	const sum = rotors.reduce((total, r) => total + r.spin, 0);
	const reason = `each diagonal pair shares a spin (${PRACTICE})`;
	if (Math.abs(sum) === rotors.length)
		return say("stop", `All ${rotors.length} rotors turn the same way: nothing holds heading.`, reason);
	if (sum !== 0)
		return say(
			"care",
			`${(rotors.length + sum) / 2} rotors turn clockwise and ${(rotors.length - sum) / 2} the other way: check every propeller.`,
			reason,
		);
	if (rotors.length !== 4)
		return say("fine", `${rotors.length / 2} rotors turn each way.`, "as many each way");
	for (const rotor of rotors) {
		const [x, y] = rotor.positionM;
		const facing = rotors.reduce((best, other) =>
			x * other.positionM[0] + y * other.positionM[1] < x * best.positionM[0] + y * best.positionM[1]
				? other
				: best,
		);
		if (facing.spin !== rotor.spin)
			return say(
				"stop",
				`Motor ${rotor.motorNumber} (${rotor.place}) and motor ${facing.motorNumber} (${facing.place}) face each other and turn opposite ways: yaw and tilt fight.`,
				reason,
			);
	}
	return say("fine", "2 rotors turn each way, each diagonal pair alike.", reason);
}
