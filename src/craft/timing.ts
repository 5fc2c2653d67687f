import { formatQuantity } from "../units/format.ts";
import type { ClockInput, CraftInput, TimingInput } from "./input.ts";
import type { AttitudeSource, Clock, Pulse, Timing } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";

/** Whole microseconds, the clocks' unit: 490 Hz is 2041 us. */
const us = (seconds: number): number => Math.round(seconds * 1e6);

/** The chain from tilt to thrust; every element not given gets a plain default. */
export function resolveTiming(input: CraftInput, notes: Notes): Timing | null {
	const timing = input.timing ?? {};
	if (timing.loop === undefined) {
		notes.problem("craft.timing.loop", undefined, 'the control loop\'s rate or period such as "500 Hz"');
		return null;
	}
	const loopUs = us(timing.loop);
	const busUs = resolveBus(timing, loopUs, notes);
	const computeUs = us(
		notes.assume(timing.compute, "time", {
			path: "craft.timing.compute",
			value: Math.min(300, Math.round(loopUs / 5)) * 1e-6,
			because: "from the start of a tick to the new commands on their way",
			source: COMMON,
			measure: "a spare pin set at the start, cleared at the end, on a scope or logic analyser",
		}),
	);
	return {
		gyro: resolveGyro(timing, loopUs, busUs, notes),
		gyroBusUs: busUs,
		attitude: resolveAttitude(timing, loopUs, notes),
		control: {
			periodUs: loopUs,
			jitterUs: us(timing.jitter ?? 0),
			skipChance: timing.skipChance ?? 0,
		},
		computeUs,
		escFrame: resolveFrame(timing, loopUs, computeUs, notes),
		pulse: resolvePulse(timing, notes),
		receiver: {
			periodUs: us(
				notes.assume(timing.receiver?.period, "period", {
					path: "craft.timing.receiver.period",
					value: 0.02,
					because: "receivers send a frame every 7 to 22 ms",
					source: COMMON,
					measure: "the receiver's sheet, or a scope on its wire",
				}),
			),
			phaseUs: phase(timing.receiver) ?? 0,
		},
	};
}

function phase(clock: ClockInput | undefined): number | "free" | undefined {
	return typeof clock?.phase === "number" ? us(clock.phase) : clock?.phase;
}

function resolveBus(timing: TimingInput, loopUs: number, notes: Notes): number {
	return us(
		notes.assume(timing.gyro?.bus, "time", {
			path: "craft.timing.gyro.bus",
			value: Math.min(400, Math.round(loopUs / 10)) * 1e-6,
			because: "reading six values over a slow serial bus (14 bytes at 400 kbit/s take about 0.4 ms)",
			source: COMMON,
			measure: "a spare pin around the read, on a scope or logic analyser",
		}),
	);
}

/** With the loop's own period the loop reads, then computes: the sample lies one bus time before the tick. */
function resolveGyro(timing: TimingInput, loopUs: number, busUs: number, notes: Notes): Clock {
	const periodUs = us(
		notes.assume(timing.gyro?.period, "period", {
			path: "craft.timing.gyro.period",
			value: loopUs * 1e-6,
			because: "the loop reads the gyro once per tick",
			source: COMMON,
			measure: "look in your code; a sensor that samples by its own clock has its rate in its sheet",
		}),
	);
	const own = periodUs === loopUs;
	const early = (periodUs - (busUs % periodUs)) % periodUs;
	return {
		periodUs,
		phaseUs: notes.assumeWord<number | "free">(phase(timing.gyro), own ? early : "free", {
			path: "craft.timing.gyro.phase",
			value: own
				? `${early} us after a tick, so that the value arrives with the next`
				: "free: the worst is taken",
			because: own ? "the loop reads, then computes" : "the gyro's clock is not the loop's",
			source: COMMON,
			measure: "look in your code for what starts a sample",
		}),
	};
}

function resolveAttitude(timing: TimingInput, loopUs: number, notes: Notes): AttitudeSource {
	const attitude = notes.assumeWord<NonNullable<TimingInput["attitude"]>>(
		timing.attitude,
		{ source: "loop" },
		{
			path: "craft.timing.attitude",
			value: "computed in the loop",
			because: "your code makes the angles from gyro and accelerometer at every sample",
			source: COMMON,
			measure: "a sensor that fuses on board has a rate and a latency: write 'source': 'fused'",
		},
	);
	if (attitude.source === "loop") return { kind: "loop" };
	const periodUs = us(
		notes.assume(attitude.period, "period", {
			path: "craft.timing.attitude.period",
			value: 0.01,
			because: "100 Hz is common where the sensor fuses on board",
			source: COMMON,
			measure: "count new values in your log",
		}),
	);
	return {
		kind: "fused",
		clock: {
			periodUs,
			phaseUs: notes.assumeWord<number | "free">(phase(attitude), "free", {
				path: "craft.timing.attitude.phase",
				value: "free: the worst is taken",
				because: `the sensor runs by its own clock, not the loop's ${loopUs} us`,
				source: COMMON,
				measure: "an interrupt pin tied to the loop would fix it",
			}),
		},
		latencyUs: us(
			notes.assume(attitude.latency, "time", {
				path: "craft.timing.attitude.latency",
				value: 0.8 * periodUs * 1e-6,
				because: "0.8 of its period for fusing and reading",
				source: COMMON,
				measure: "turn the craft by hand against a gyro log and shift one over the other",
			}),
		),
	};
}

/** Up to 490 Hz (2041 us) the loop itself starts the pulses; faster loops outrun them and the frame has its own clock. */
function resolveFrame(timing: TimingInput, loopUs: number, computeUs: number, notes: Notes): Clock {
	const digital = timing.pulse?.kind === "digital";
	const together = digital || loopUs >= 2041;
	const periodUs = us(
		notes.assume(timing.frame?.period, "period", {
			path: "craft.timing.frame.period",
			value: (together ? loopUs : 2500) * 1e-6,
			because: together
				? "commands are sent once per tick"
				: "400 Hz is common for pulses of up to 2000 us; they do not fit your loop rate",
			source: COMMON,
			measure: "a scope on one speed controller's wire",
		}),
	);
	const own = periodUs === loopUs;
	return {
		periodUs,
		phaseUs: notes.assumeWord<number | "free">(phase(timing.frame), own ? computeUs % periodUs : "free", {
			path: "craft.timing.frame.phase",
			value: own
				? `${computeUs % periodUs} us after the tick, when the commands are ready`
				: "free: the worst is taken",
			because: own ? "the tick sends them" : "the frame's timer is not the loop's",
			source: COMMON,
			measure: "look in your code, or trigger a scope on the tick",
		}),
	};
}

function resolvePulse(timing: TimingInput, notes: Notes): Pulse {
	const pulse = notes.assumeWord<NonNullable<TimingInput["pulse"]>>(
		timing.pulse,
		{ kind: "width" },
		{
			path: "craft.timing.pulse",
			value: "pulses of 1000 to 2000 us",
			because: "the plain way to drive a speed controller; the command is known only when the pulse ends",
			source: COMMON,
			measure: "a scope on one speed controller's wire",
		},
	);
	if (pulse.kind === "digital")
		return {
			kind: "digital",
			transportUs: us(
				notes.assume(pulse.transport, "time", {
					path: "craft.timing.pulse.transport",
					value: 30e-6,
					because: "16 bits at a few hundred kbit/s",
					source: COMMON,
					measure: "a scope on one speed controller's wire: length of one message",
				}),
			),
			steps: pulse.steps ?? 2000,
		};
	const shortest = pulse.shortest ?? 1000e-6;
	const longest = pulse.longest ?? 2000e-6;
	if (!(longest > shortest))
		notes.problem(
			"craft.timing.pulse.longest",
			pulse.longest,
			`longer than the shortest pulse, ${formatQuantity("time", shortest)}`,
		);
	return {
		kind: "width",
		shortestUs: us(shortest),
		longestUs: us(longest),
		resolutionUs: (pulse.resolution ?? 1e-6) * 1e6,
	};
}
