import { AXES, type AxisName, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { type AxisLoops, axisLoops, type CraftAnswer, coupledLoops, loopMatrix } from "./axis-loops.ts";
import { type AxisPlants, axisPlantsOf } from "./axis-plants.ts";
import { axesTouch, craftAnswer } from "./craft-answer.ts";
import { diskReport } from "./disk-report.ts";
import { feltFrequencies } from "./felt-frequencies.ts";
import { type AxisIndex, type LiftedLoop, type LoopChange, liftedLoop, UNCHANGED } from "./lifted.ts";
import { type LiftedMargins, liftedMargins } from "./lifted-margins.ts";
import { type LinearCraft, linearise } from "./linearise.ts";
import { phaseLedger } from "./phase-ledger.ts";
import type {
	AxisMargins,
	MarginsReport,
	MarginsResult,
	PeriodicAxis,
	PeriodicLoop,
} from "./report-types.ts";
import { analyseScalarLoop } from "./scalar-loop.ts";
import type { LoopResponse, Margin, ScalarLoopResult } from "./scalar-loop-types.ts";
import { slowMode } from "./slow-mode.ts";
import { type TimingChain, timingChain } from "./timing-chain.ts";

/** Below this no loop of a multirotor does anything that a pilot would not hold by hand. */
const LOWEST_RAD_PER_SEC = 0.05;
/** Largest relative change of L by couplings up to which they are left out: under 0.0001 dB. */
const NEGLIGIBLE = 1e-5;
/** And by another axis's loop in the lifted answer, whose map grows with every axis: under 0.01 dB. */
const NEGLIGIBLE_LIFTED = 1e-3;
/** Where |L| is below this nothing depends on it: 36 dB under. */
const LEAST_LOOP = 0.016;

/** All margins of a gain set at an operating point, by frequency and lifted over one hyperperiod. */
export function marginsReport(craft: Craft, set: GainSet, point: OperatingPoint): MarginsResult {
	const found = linearise(craft, point);
	if (!found.feasible) return found;
	return { feasible: true, report: reportOn(craft, set, found.linear) };
}

type OpeningName = "rate" | "angle" | "whole";

interface Context {
	readonly craft: Craft;
	readonly set: GainSet;
	readonly linear: LinearCraft;
	readonly chain: TimingChain;
	readonly plants: AxisPlants;
	readonly answer: CraftAnswer;
	/** Axes act on each other at all. */
	readonly coupled: boolean;
	/** Per axis, the axes whose loops its lifted answer closes, itself first. */
	readonly company: readonly (readonly AxisIndex[])[];
	/** By opened loop; the same closed loop serves several openings. */
	lifted(axis: AxisIndex, rateOnly: boolean): LiftedLoop;
	loopsFor(set: GainSet): readonly AxisLoops[];
}

function reportOn(craft: Craft, set: GainSet, linear: LinearCraft): MarginsReport {
	const context = createContext(craft, set, linear);
	const { chain } = context;
	const loops = context.loopsFor(set);
	const held: AxisIndex[] = set.structure === "rateOnly" ? [0, 1] : [];
	const all = liftedLoop(linear, chain, set, [0, 1, 2], held, true);
	const spectralRadius = all.radius([UNCHANGED, UNCHANGED, UNCHANGED]);
	const answers = AXES.map((_, i) => axisMargins(context, loops[i]!, i as AxisIndex));
	const [roll, pitch, yaw] = answers as [AxisAnswer, AxisAnswer, AxisAnswer];
	const stable = spectralRadius < 1;
	return {
		axes: { roll: roll.margins, pitch: pitch.margins, yaw: yaw.margins },
		periodic: {
			hyperperiodSec: all.hyperperiodSec,
			equalClocks: AXES.every((axis) => context.plants[axis].equalClocks),
			rationalised: chain.rationalised,
			spectralRadius,
			stable,
			axesApart: context.company.every((axes) => axes.length === 1),
			axes: { roll: roll.periodic, pitch: pitch.periodic, yaw: yaw.periodic },
		},
		disk: diskReport(
			loopMatrix(context.answer, set, 1e-6 * chain.tickUs, context.plants.roll.rateSpacingSec),
			stable,
			LOWEST_RAD_PER_SEC,
			Math.PI / (1e-6 * chain.tickUs),
			context.coupled,
		),
		slowMode: set.structure === "rateOnly" ? slowMode(linear, chain, set) : null,
		notes: notes(craft, context),
	};
}

function createContext(craft: Craft, set: GainSet, linear: LinearCraft): Context {
	const chain = timingChain(craft.timing);
	const plants = axisPlantsOf(linear, chain);
	const T = 1e-6 * chain.tickUs;
	const spacing = plants.roll.rateSpacingSec;
	const alone = (s: GainSet): AxisLoops[] => AXES.map((axis) => axisLoops(plants[axis], s));
	const answer = craftAnswer(linear, chain);
	const together = (s: GainSet): AxisLoops[] => coupledLoops(answer, s, T, spacing);
	const coupled = axesTouch(linear) && largestCoupling(alone(set), together(set), T) >= NEGLIGIBLE;
	const company = coupled ? companyOf(loopMatrix(answer, set, T, spacing), T) : ([[0], [1], [2]] as const);
	const cache = new Map<string, LiftedLoop>();
	return {
		craft,
		set,
		linear,
		chain,
		plants,
		answer,
		coupled,
		company,
		loopsFor: coupled ? together : alone,
		lifted(axis, rateOnly) {
			const key = `${axis} ${rateOnly}`;
			let loop = cache.get(key);
			if (!loop) {
				const others: AxisIndex[] = set.structure === "rateOnly" ? [0, 1] : [];
				const still = rateOnly ? [...new Set([...others, axis])] : others;
				loop = liftedLoop(linear, chain, set, company[axis]!, still, coupled);
				cache.set(key, loop);
			}
			return loop;
		},
	};
}

/** Frequencies that margins depend on. */
function probes(periodSec: number): number[] {
	return Array.from({ length: 40 }, (_, i) => 0.5 * ((0.9 * Math.PI) / periodSec / 0.5) ** (i / 39));
}

/** Largest relative change of L that everything outside an axis's own states makes. */
function largestCoupling(
	alone: readonly AxisLoops[],
	together: readonly AxisLoops[],
	periodSec: number,
): number {
	const a = new Float64Array(2);
	const b = new Float64Array(2);
	let largest = 0;
	for (let axis = 0; axis < 3; axis++)
		for (const omega of probes(periodSec)) {
			alone[axis]!.all[axis < 2 ? "whole" : "rate"](omega, a);
			together[axis]!.all[axis < 2 ? "whole" : "rate"](omega, b);
			const size = Math.hypot(a[0]!, a[1]!);
			if (size >= LEAST_LOOP) largest = Math.max(largest, Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!) / size);
		}
	return largest;
}

/** For each axis the others whose closed loop changes its own by Q_ij Q_ji / (1 + Q_jj), relative to Q_ii, more than a trifle. */
function companyOf(matrix: (omega: number, out: Float64Array) => void, periodSec: number): AxisIndex[][] {
	const q = new Float64Array(18);
	const size = (i: number, j: number): number => Math.hypot(q[2 * (3 * i + j)]!, q[2 * (3 * i + j) + 1]!);
	const lists: AxisIndex[][] = [[0], [1], [2]];
	for (const omega of probes(periodSec)) {
		matrix(omega, q);
		for (const i of [0, 1, 2] as const)
			for (const j of [0, 1, 2] as const) {
				if (i === j || lists[i]!.includes(j) || size(i, i) < LEAST_LOOP) continue;
				const closed = Math.hypot(1 + q[8 * j]!, q[8 * j + 1]!);
				if ((size(i, j) * size(j, i)) / closed / size(i, i) > NEGLIGIBLE_LIFTED) lists[i]!.push(j);
			}
	}
	return lists;
}

interface AxisAnswer {
	readonly margins: AxisMargins;
	readonly periodic: PeriodicAxis;
}

function axisMargins(context: Context, loops: AxisLoops, index: AxisIndex): AxisAnswer {
	const { set, plants } = context;
	const axis = AXES[index]!;
	const T = plants[axis].periodSec;
	const closed = { rate: radiusOf(context, index, "rate"), whole: radiusOf(context, index, "whole") };
	const analyse = (name: OpeningName): ScalarLoopResult | null => {
		const respond = loops[name];
		if (!respond) return null;
		const radius = name === "rate" ? closed.rate : closed.whole;
		return analyseScalarLoop({
			respond,
			lowestRadPerSec: LOWEST_RAD_PER_SEC,
			highestRadPerSec: Math.PI / T,
			// With unequal clocks the answer is an average, not real at pi/T.
			...(plants[axis].equalClocks ? { periodSec: T } : {}),
			stable: radius < 1,
			whyUnstable: `the closed loop grows by a factor ${radius.toPrecision(4)} every ${(1e-3 * context.chain.hyperperiodUs).toPrecision(4)} ms`,
		});
	};
	const rate = analyse("rate");
	const angle = analyse("angle");
	const whole = analyse("whole");
	const why: Record<string, string> = {};
	if (!rate) why["rateLoop"] = loops.why.rate!;
	if (!angle) why["angleLoop"] = loops.why.angle!;
	if (!whole) why["wholeAxis"] = loops.why.whole!;
	const outer = whole ? "whole" : "rate";
	const ledgerLoop = set.structure === "anglePid" && axis !== "yaw" ? whole : rate;
	const ledgerAt = ledgerLoop?.crossoverRadPerSec.value ?? null;
	const margins: AxisMargins = {
		rateLoop: rate ?? absentLoop(why["rateLoop"]!),
		angleLoop: angle,
		wholeAxis: whole,
		why,
		ledgerRadPerSec: ledgerAt,
		phaseLedger:
			ledgerAt === null
				? []
				: ledger(context, axis, ledgerLoop === rate ? loops.rate! : loops.whole!, ledgerAt),
		felt: feltFrequencies({
			set,
			axis,
			loopFor: (s) => outerLoop(context.loopsFor(s)[index]!, outer),
			lowestRadPerSec: LOWEST_RAD_PER_SEC,
			highestRadPerSec: Math.PI / T,
			...(plants[axis].equalClocks ? { periodSec: T } : {}),
			stable: (outer === "whole" ? closed.whole : closed.rate) < 1,
			hasAngleLoop: whole !== null,
		}),
	};
	const periodicLoop = (name: OpeningName, answer: ScalarLoopResult | null): PeriodicLoop | null =>
		answer && periodic(context, index, name, answer);
	return {
		margins,
		periodic: {
			stable: (outer === "whole" ? closed.whole : closed.rate) < 1,
			spectralRadius: outer === "whole" ? closed.whole : closed.rate,
			rateLoop: periodicLoop("rate", rate) ?? absentPeriodic(why["rateLoop"]!),
			angleLoop: periodicLoop("angle", angle),
			wholeAxis: periodicLoop("whole", whole),
		},
	};
}

/** With a gain taken out there may be no outer loop left in name; its answer is then the inner one's. */
function outerLoop(loops: AxisLoops, outer: "whole" | "rate"): LoopResponse {
	const loop = outer === "whole" ? (loops.all.whole ?? loops.rate) : loops.all.rate;
	if (!loop) throw new Error("marginsReport: an axis without any loop");
	return loop;
}

function radiusOf(context: Context, index: AxisIndex, name: "rate" | "whole"): number {
	const rateOnly = name === "rate" && index < 2;
	return context.lifted(index, rateOnly).radius(changesFor(context, index, UNCHANGED));
}

function changesFor(context: Context, index: AxisIndex, own: LoopChange): LoopChange[] {
	return context.company[index]!.map((axis) => (axis === index ? own : UNCHANGED));
}

function ledger(context: Context, axis: AxisName, loop: LoopResponse, omega: number) {
	const { linear, chain, set, craft, plants } = context;
	const anglePid = set.structure === "anglePid" && axis !== "yaw";
	return phaseLedger(
		{
			linear,
			chain,
			set,
			axis,
			gyroLowPassHz: craft.sensors.gyroLowPassHz,
			rateSpacingSec: plants[axis].rateSpacingSec,
			loop,
			path: anglePid ? "angle" : "gyro",
		},
		omega,
	);
}

function periodic(
	context: Context,
	index: AxisIndex,
	name: OpeningName,
	answer: ScalarLoopResult,
): PeriodicLoop {
	const { chain } = context;
	const loop = context.lifted(index, name === "rate" && index < 2);
	const change = (own: Partial<LoopChange>) => changesFor(context, index, { ...UNCHANGED, ...own });
	const clock = name === "angle" ? chain.attitude.periodUs : chain.frame.periodUs;
	const found: LiftedMargins = liftedMargins(
		{
			loop,
			gain: (factor) => change(name === "angle" ? { angle: factor } : { u: factor }),
			delay: (seconds) =>
				change(name === "angle" ? { angleEarlierSec: seconds } : { applyLaterSec: seconds }),
			longestDelaySec: 1e-6 * 60 * clock,
		},
		{
			gainUpDb: answer.gainMarginUpDb,
			gainDownDb: answer.gainMarginDownDb,
			delaySec: answer.delayMarginSec,
		},
	);
	const less = (a: Margin, b: Margin): number | null =>
		a.value === null || b.value === null ? null : a.value - b.value;
	return {
		...found,
		difference: {
			gainMarginUpDb: less(found.gainMarginUpDb, answer.gainMarginUpDb),
			gainMarginDownDb: less(found.gainMarginDownDb, answer.gainMarginDownDb),
			delayMarginSec: less(found.delayMarginSec, answer.delayMarginSec),
		},
	};
}

function none(why: string): Margin {
	return { value: null, radPerSec: null, why, verdict: "satisfied" };
}

/** A loop that is not there: nothing to limit. */
function absentLoop(why: string): ScalarLoopResult {
	const margin = none(why);
	return {
		stable: true,
		why: "",
		crossings: [],
		gainMarginUpDb: margin,
		gainMarginDownDb: margin,
		phaseMarginDeg: margin,
		delayMarginSec: margin,
		crossoverRadPerSec: margin,
		bandwidthRadPerSec: margin,
		ms: margin,
		mt: margin,
		stabilityRadius: margin,
	};
}

function absentPeriodic(why: string): PeriodicLoop {
	const margin = none(why);
	return {
		gainMarginUpDb: margin,
		gainMarginDownDb: margin,
		delayMarginSec: margin,
		difference: { gainMarginUpDb: null, gainMarginDownDb: null, delayMarginSec: null },
	};
}

function notes(craft: Craft, { chain, linear, coupled }: Context): string[] {
	const list: string[] = [];
	if (chain.rationalised) list.push(chain.rationalised);
	const { timing, airframe } = craft;
	const free = [
		timing.gyro,
		timing.escFrame,
		...(timing.attitude.kind === "fused" ? [timing.attitude.clock] : []),
	];
	if (free.some((clock) => clock.phaseUs === "free"))
		list.push("clocks of unknown phase are taken where the mean delay is largest");
	if (timing.control.jitterUs > 0 || timing.control.skipChance > 0)
		list.push("loop jitter and skipped ticks are left out here; fly a drill to see them");
	if (airframe.groundEffect) list.push("far from the ground: height and ground effect are left out");
	if (craft.mixer.batteryCompensation)
		list.push("the mixer's battery compensation is held at its trim value");
	if (coupled) list.push("axes act on each other: every margin has the other two axes' loops closed");
	if (!linear.trim.steady) list.push("no steady climb at this throttle: taken at zero climb, accelerating");
	return list;
}
