import { fixed, ms, PRACTICE, percent, type Rule, say } from "./finding-rule.ts";
import { timingChain } from "./timing-chain.ts";

/** Clocks, lags and delays. */
export const TIMING_RULES: readonly Rule[] = [
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
];
