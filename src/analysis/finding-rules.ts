import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Plant } from "../physics/plant.ts";
import type { Pull } from "../physics/pull.ts";
import type { Trim } from "../physics/trim.ts";
import type { Finding, HoverReport } from "./craft-report-types.ts";
import type { MarginsBrief } from "./report-types.ts";
import { timingChain } from "./timing-chain.ts";

/** What the rules look at. */
export interface Facts {
	readonly craft: Craft;
	readonly point: OperatingPoint;
	readonly plant: Plant;
	readonly trim: Trim | null;
	readonly whyNoHover: string;
	readonly hover: HoverReport | null;
	/** Full throttle, nearly empty, at this load. */
	readonly worstPull: Pull;
	/** Hover corners that cannot be flown, by name with reason. */
	readonly lostCorners: readonly { readonly name: string; readonly reason: string }[];
	/** With a gain set at hand. */
	readonly margins: MarginsBrief | null;
}

interface Judgement {
	readonly level: Finding["level"];
	readonly sentence: string;
	readonly reason: string;
}

export interface Rule {
	readonly name: string;
	/** Null where the rule has nothing to say. */
	judge(facts: Facts): Judgement | null;
}

const say = (level: Finding["level"], sentence: string, reason: string): Judgement => ({
	level,
	sentence,
	reason,
});
const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const fixed = (value: number, digits = 2): string => value.toFixed(digits);
const ms = (us: number): string => `${Number((us / 1000).toPrecision(4))} ms`;
const PRACTICE = "common practice, no source";

/** Every finding comes from this table; its limits are common practice without source unless a line says otherwise. */
export const RULES: readonly Rule[] = [
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
	{
		name: "attitudeSlow",
		judge: ({ craft }) => {
			const { attitude, control } = craft.timing;
			if (attitude.kind !== "fused") return null;
			const chain = timingChain(craft.timing);
			const age = `angles are ${ms(1e6 * chain.attitudeAge.meanSec)} old on average`;
			if (attitude.clock.periodUs <= 2 * control.periodUs && attitude.latencyUs <= 5000) return null;
			return say(
				"care",
				`Attitude comes every ${ms(attitude.clock.periodUs)} while the loop runs every ${ms(control.periodUs)}: ${age}.`,
				"age of attitude limits k_angle; the rate loop does not feel it",
			);
		},
	},
	{
		name: "gyroSlow",
		judge: ({ craft }) => {
			const { gyro, control } = craft.timing;
			if (gyro.periodUs <= control.periodUs) return null;
			return say(
				"care",
				`The gyro gives a sample every ${ms(gyro.periodUs)}, the loop runs every ${ms(control.periodUs)}: it works on old rates.`,
				"ticks without a new sample add delay and no knowledge",
			);
		},
	},
	{
		name: "gyroLowPass",
		judge: ({ craft, plant }) => {
			const hz = craft.sensors.gyroLowPassHz;
			if (hz === null) return null;
			const lag = 1 / (2 * Math.PI * hz);
			const motor = Math.max(plant.rotors[0]!.tauUpSec, plant.rotors[0]!.tauDownSec);
			if (lag < 0.15 * motor) return null;
			return say(
				"care",
				`The gyro's low-pass at ${Number(hz.toPrecision(3))} Hz lags by ${ms(1e6 * lag)}, ${percent(lag / motor)} of the motor's ${ms(1e6 * motor)}.`,
				`a higher cutoff buys phase where vibration allows; above 15 % (${PRACTICE})`,
			);
		},
	},
	{
		name: "frameSlow",
		judge: ({ craft }) => {
			const { escFrame, control } = craft.timing;
			if (escFrame.periodUs <= control.periodUs) return null;
			const wait = timingChain(craft.timing).holdAge.meanSec;
			return say(
				"care",
				`Speed controllers take a command every ${ms(escFrame.periodUs)}, the loop makes one every ${ms(control.periodUs)}: commands wait ${ms(1e6 * wait)} more on average.`,
				"some ticks' work never reaches a motor",
			);
		},
	},
	{
		name: "freePhase",
		judge: ({ craft }) => {
			const { gyro, escFrame, attitude } = craft.timing;
			const free = [
				["gyro", gyro],
				["speed-controller frame", escFrame],
				...(attitude.kind === "fused" ? [["attitude", attitude.clock] as const] : []),
			] as const;
			const names = free.filter(([, clock]) => clock.phaseUs === "free");
			if (names.length === 0) return null;
			return say(
				"care",
				`${names.length} clock${names.length > 1 ? "s run" : " runs"} free of the loop (${names.map(([n]) => n).join(", ")}): the worst phase is taken.`,
				"tying the clocks together buys up to one period of delay",
			);
		},
	},
	{
		name: "skippedTicks",
		judge: ({ craft }) => {
			const { jitterUs, skipChance, periodUs } = craft.timing.control;
			if (skipChance === 0 && jitterUs <= 0.1 * periodUs) return null;
			return say(
				"care",
				`The loop skips ${fixed(100 * skipChance, 1)} % of its ticks and wanders by ${ms(jitterUs)}: margins below do not count that.`,
				"fly a stall drill to see what it does",
			);
		},
	},
	{
		name: "loopSlow",
		judge: ({ craft }) => {
			const { periodUs } = craft.timing.control;
			if (periodUs <= 20_000) return null;
			const every = `The loop runs only every ${ms(periodUs)}`;
			if (periodUs > 100_000)
				return say("stop", `${every}: a craft falls over between two ticks.`, `above 100 ms (${PRACTICE})`);
			return say("care", `${every}: little gain is possible.`, `above 20 ms (${PRACTICE})`);
		},
	},
	{
		name: "motorLag",
		judge: ({ plant }) => {
			const lag = Math.max(plant.rotors[0]!.tauUpSec, plant.rotors[0]!.tauDownSec);
			if (lag <= 0.1) return null;
			const quick = `the loops can be quick only below about ${Number((1 / (2 * Math.PI * lag)).toPrecision(2))} Hz`;
			if (lag > 0.5)
				return say(
					"stop",
					`Motors need ${ms(1e6 * lag)} to follow: ${quick}, too slow to catch a fall.`,
					`above 500 ms (${PRACTICE}); milliseconds written as seconds?`,
				);
			return say(
				"care",
				`Motors need ${ms(1e6 * lag)} to follow: ${quick}.`,
				`above 100 ms (${PRACTICE}); lighter propellers buy most`,
			);
		},
	},
	{
		name: "margins",
		judge: ({ margins }) => (margins ? marginFinding(margins) : null),
	},
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

/** Weakest margin by its share of the classic requirement: 6 dB and 45 degrees (SAE AS94900 / MIL-DTL-9490, from memory). */
function marginFinding(margins: MarginsBrief): Judgement {
	if (!margins.periodic.stable)
		return say(
			"stop",
			`With these gains the craft is unstable: it grows by a factor ${margins.periodic.spectralRadius.toPrecision(4)} every ${ms(1e6 * margins.periodic.hyperperiodSec)}.`,
			"largest eigenvalue over one repetition of the clocks",
		);
	let weakest = { share: Number.POSITIVE_INFINITY, text: "" };
	for (const [axis, m] of Object.entries(margins.axes))
		for (const [name, loop] of [
			["rate loop", m.rateLoop],
			["angle loop", m.angleLoop],
			["whole axis", m.wholeAxis],
		] as const) {
			const offer = (value: number | null | undefined, need: number, unit: string, what: string): void => {
				if (value === null || value === undefined || value / need >= weakest.share) return;
				weakest = { share: value / need, text: `${axis} ${name}, ${what} ${fixed(value, 1)} ${unit}` };
			};
			offer(loop?.gainMarginUpDb.value, 6, "dB", "gain margin up");
			offer(loop?.gainMarginDownDb.value, 6, "dB", "gain margin down");
			offer(loop?.phaseMarginDeg.value, 45, "deg", "phase margin");
		}
	const reason =
		"6 dB and 45 degrees are the classic flight-control requirement (SAE AS94900 / MIL-DTL-9490, from memory)";
	if (weakest.text === "")
		return say("fine", "No loop has a limit: all 3 axes are stable at any gain.", reason);
	if (weakest.share < 0.5)
		return say("stop", `Weakest margin: ${weakest.text}, under half of what is asked for.`, reason);
	return say(weakest.share < 1 ? "care" : "fine", `Weakest margin: ${weakest.text}.`, reason);
}
