import type { AxisPlant } from "../analysis/axis-plant.ts";
import { closeLoop, polesOutside } from "../analysis/closed-loop.ts";
import { controlParts } from "../control/axis-response.ts";
import type { AxisGains, AxisName, FilterSpec, FixedGainSet } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import type { Limits } from "./characters.ts";
import { type CornerTable, cornerTable } from "./corner-table.ts";
import { createLoopTest, type Gains4, RATE, testLoop, WHOLE } from "./loop-test.ts";
import { gyroNoiseSpectrum } from "./noise-spectrum.ts";
import type { AxisProblem } from "./result.ts";
import { type StepCost, stepCosts } from "./step-cost.ts";

/** One axis's search: its corners as tables, its scale, and the control law that gains are put into. */
export interface AxisSearchProblem {
	readonly axis: AxisName;
	readonly numbers: AxisProblem;
	readonly tables: readonly CornerTable[];
	/** kp that puts |kp P_r| at 1 at the natural frequency in the scale's corner. */
	readonly kpUnit: number;
	readonly limits: Limits;
	readonly usesDerivative: boolean;
	readonly filters: readonly FilterSpec[];
	/** The largest of the corners'. */
	readonly holdPerNm: number;
}

export interface ProblemSpec {
	readonly axis: AxisName;
	readonly craft: Craft;
	readonly limits: Limits;
	/** Where the scale is taken. */
	readonly reference: AxisPlant;
	readonly corners: readonly {
		readonly name: string;
		readonly plant: AxisPlant;
		readonly motorLagSec: number;
	}[];
	/** At the reference. */
	readonly motorLagSec: number;
	readonly filters: readonly FilterSpec[];
	readonly usesDerivative: boolean;
	/** u that the axis may use at hover. */
	readonly authority: number;
	/** Steps and references taken from another problem. */
	readonly scale?: AxisProblem | undefined;
	/** Per decade of frequency; default 24. */
	readonly pointsPerDecade?: number | undefined;
}

/** Sizes of the two steps: a tenth of the axis's torque, 10 degrees (yaw: 30 degrees a second). Linear: only prints depend on them. */
const TORQUE_SHARE = 0.1;
const ANGLE_STEP = (10 * Math.PI) / 180;
const RATE_STEP = (30 * Math.PI) / 180;
/** The horizon in natural periods over 2 pi: three times the slowest recovery that the ratios allow; the rest is closed by IE. */
const HORIZON = 45;
/** Spacing of the trapezoids, radians of the natural frequency: 30 a turn, so 8 a turn at four times that. */
const STEP = 0.2;
/** The derivative's low-pass over the natural frequency: no phase to speak of where D works, no more noise than that costs. */
const DERIVATIVE = 10;

export function axisProblem(spec: ProblemSpec): AxisSearchProblem {
	const { axis, craft, reference, filters } = spec;
	const period = reference.periodSec;
	const step = axis === "yaw" ? RATE_STEP : ANGLE_STEP;
	const natural = Math.min(
		phaseFrequency(reference),
		authorityFrequency(reference, spec.authority / step),
		ceiling(axis, spec.motorLagSec),
	);
	const cutoff = Math.min((DERIVATIVE * natural) / (2 * Math.PI), 0.25 / reference.rateSpacingSec);
	const noise = gyroNoiseSpectrum(craft.sensors, 1e-6 * craft.timing.gyro.periodUs, period);
	const parts = controlParts({
		anglePid: false,
		filters,
		derivativeCutoffHz: cutoff,
		periodSec: period,
		rateSpacingSec: reference.rateSpacingSec,
	});
	const tables = spec.corners.map(({ name, plant, motorLagSec }) =>
		cornerTable({
			name,
			plant,
			parts,
			noise,
			lowestRadPerSec: natural / 150,
			pointsPerDecade: spec.pointsPerDecade ?? 24,
			...leastDelays(plant, spec.limits),
			ratioCeilingRadPerSec: ceiling(axis, motorLagSec),
		}),
	);
	const out = new Float64Array(6);
	reference.respond(natural, out);
	const kpUnit = 1 / Math.hypot(out[4]!, out[5]!);
	const hold = tables[0]!.holdPerNm;
	const torque = (TORQUE_SHARE * spec.authority) / hold;
	const problem: AxisSearchProblem = {
		axis,
		tables,
		kpUnit,
		limits: spec.limits,
		usesDerivative: spec.usesDerivative,
		filters,
		holdPerNm: tables.reduce((most, table) => Math.max(most, table.holdPerNm), 0),
		numbers: {
			axis,
			naturalRadPerSec: natural,
			torqueStepNm: torque,
			setPointStep: step,
			authority: spec.authority,
			horizonSec: HORIZON / natural,
			// The integrals of error of an ideal loop: kp at the unit, ki/kp a sixth and k_angle a third of the natural frequency.
			ref1:
				axis === "yaw"
					? (6 * torque * hold) / (kpUnit * natural)
					: (18 * torque * hold) / (kpUnit * natural * natural),
			ref2: axis === "yaw" ? step / natural : (3 * step) / natural,
			derivativeCutoffHz: cutoff,
			gyroNoiseRadPerSecPerRootHz: craft.sensors.gyroNoiseRadPerSecPerRootHz,
		},
	};
	const { scale } = spec;
	const scaled: AxisSearchProblem = scale
		? {
				...problem,
				numbers: {
					...problem.numbers,
					torqueStepNm: scale.torqueStepNm,
					setPointStep: scale.setPointStep,
					ref1: scale.ref1,
					ref2: scale.ref2,
				},
			}
		: problem;
	for (const table of tables) calibrate(scaled, table);
	return scaled;
}

/** The same axis and tables under other limits. */
export function withLimits(problem: AxisSearchProblem, limits: Limits): AxisSearchProblem {
	const tables = problem.tables.map((table) => ({ ...table, ...leastDelays(table.plant, limits) }));
	return { ...problem, limits, tables };
}

function leastDelays(
	plant: AxisPlant,
	limits: Limits,
): Pick<CornerTable, "leastRateDelaySec" | "leastAngleDelaySec"> {
	const least = (clock: number): number =>
		Math.max(limits.delayMarginPeriods * clock, limits.leastDelayMarginSec);
	return {
		leastRateDelaySec: least(plant.slowestRateClockSec),
		leastAngleDelaySec: least(plant.slowestClockSec),
	};
}

/**
 * Above the motors' own corner frequency yaw answers by the reaction to the rotors' acceleration, which a few per cent of command
 * use up: crossover beyond it is no measure of how fast an integral may be.
 */
const ceiling = (axis: AxisName, motorLagSec: number): number =>
	axis === "yaw" ? 1 / motorLagSec : Infinity;

/** Where the phase of rate/u, drift left out, first falls to -135 degrees. */
function phaseFrequency(plant: AxisPlant): number {
	const highest = Math.PI / plant.periodSec;
	const out = new Float64Array(6);
	let last = highest / 10_000;
	for (let i = 1; i <= 400; i++) {
		const omega = (highest / 10_000) * 10_000 ** (i / 400);
		plant.respond(omega, out);
		if (below135(out)) {
			let [a, b] = [last, omega];
			for (let k = 0; k < 40; k++) {
				const m = Math.sqrt(a * b);
				plant.respond(m, out);
				if (below135(out)) b = m;
				else a = m;
			}
			return b;
		}
		last = omega;
	}
	return highest / 4;
}

/** Where an ideal loop (k_angle a third of it) asks for the whole authority when the set-point steps. */
function authorityFrequency(plant: AxisPlant, mostPerStep: number): number {
	const out = new Float64Array(6);
	const asks = (omega: number): boolean => {
		plant.respond(omega, out);
		const kp = 1 / Math.hypot(out[4]!, out[5]!);
		return (plant.axis === "yaw" ? kp : (kp * omega) / 3) > mostPerStep;
	};
	const highest = Math.PI / plant.periodSec;
	let [a, b] = [highest / 10_000, highest];
	if (!asks(b)) return highest;
	for (let k = 0; k < 50; k++) {
		const m = Math.sqrt(a * b);
		if (asks(m)) b = m;
		else a = m;
	}
	return b;
}

/** From -90 degrees down: Im + Re > 0 turns the sign at -135 and stays so to 45. */
const below135 = (out: Float64Array): boolean => out[4]! < out[5]!;

/** Complete gains of the axis for the control law; its limits do not act in small signals. */
function axisGains(problem: AxisSearchProblem, gains: Gains4): AxisGains {
	return {
		kAngle: gains[0],
		kAngleI: 0,
		kp: gains[1],
		ki: gains[2],
		kd: gains[3],
		kff: 0,
		setPointWeight: 1,
		integralLimit: 1,
		outputLimit: 1,
		rateLimitRadPerSec: 1e3,
		angleIntegralLimitRadPerSec: 0,
		derivativeCutoffHz: problem.numbers.derivativeCutoffHz,
	};
}

export function setOf(problem: AxisSearchProblem, gains: Gains4): FixedGainSet {
	const axis = axisGains(problem, gains);
	return { name: "", structure: "cascade", roll: axis, pitch: axis, yaw: axis, filters: problem.filters };
}

/** Share of the authority that P answers a set-point step with. */
export function askedShare({ axis, numbers }: AxisSearchProblem, gains: Gains4): number {
	return (gains[1] * (axis === "yaw" ? 1 : gains[0]) * numbers.setPointStep) / numbers.authority;
}

export interface CornerCost {
	readonly objective: number;
	readonly torque: StepCost;
	readonly setPoint: StepCost;
}

/** J of one corner with its parts, per unit steps scaled to the problem's. */
export function cornerCost(problem: AxisSearchProblem, table: CornerTable, gains: Gains4): CornerCost {
	const { numbers } = problem;
	const loop = closeLoop(table.plant, setOf(problem, gains));
	const scaled = (cost: StepCost, by: number): StepCost => ({
		iae: cost.iae * by,
		peak: cost.peak * by,
		overshoot: cost.overshoot,
	});
	const stride = Math.max(1, Math.floor(STEP / (numbers.naturalRadPerSec * loop.periodSec)));
	const costs = stepCosts(loop, numbers.horizonSec, stride);
	const setPoint = scaled(costs.setPoint, numbers.setPointStep);
	const torque = scaled(costs.torque, numbers.torqueStepNm);
	return { objective: torque.iae / numbers.ref1 + setPoint.iae / numbers.ref2, torque, setPoint };
}

/**
 * J is never below this: |IE| of either step. At rest after a torque step ki times the integral of the rate error is the u
 * that holds it, and the integral of the rate set-point is k_angle times that of the angle error; after a set-point step
 * k_angle times the integral of the angle error is the step itself. Air damping adds to the first and slow drift to both.
 */
export function objectiveBound(problem: AxisSearchProblem, gains: Gains4): number {
	const { numbers, holdPerNm: hold } = problem;
	const [kAngle, , ki] = gains;
	if (problem.axis === "yaw") return (hold * numbers.torqueStepNm) / ki / numbers.ref1;
	return (
		(hold * numbers.torqueStepNm) / (ki * kAngle) / numbers.ref1 +
		numbers.setPointStep / kAngle / numbers.ref2
	);
}

/**
 * The Nyquist angle that stable gains have: that of some gains less half a turn for each pole they leave outside the circle.
 * Taken where 1 + W keeps farthest from 0, so that the grid cannot pass it on the wrong side.
 */
function calibrate(problem: AxisSearchProblem, table: CornerTable): void {
	const { naturalRadPerSec: w } = problem.numbers;
	const test = createLoopTest();
	let clearest = Infinity;
	for (const speed of [0.3, 0.6, 1, 0.15]) {
		const kp = speed * problem.kpUnit;
		const gains: Gains4 = [(speed * w) / 4, kp, (kp * speed * w) / 10, (0.4 * kp) / w];
		testLoop(table, gains, null, test);
		const peak = Math.max(test.ms[RATE]!, test.ms[WHOLE]!);
		if (peak >= clearest) continue;
		clearest = peak;
		table.stableAngle = test.lowAngle - Math.PI * polesOutside(closeLoop(table.plant, setOf(problem, gains)));
		if (clearest < CLEAR) return;
	}
}

const CLEAR = 2.5;
