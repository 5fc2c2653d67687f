import { describe, expect, it } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import { type HyperperiodCheck, hyperperiodCheck } from "../../src/analysis/hyperperiod-check.ts";
import { liftedLoop, UNCHANGED } from "../../src/analysis/lifted.ts";
import { linearise } from "../../src/analysis/linearise.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import type { MarginsReport } from "../../src/analysis/report-types.ts";
import { timingChain } from "../../src/analysis/timing-chain.ts";
import { fixedSet } from "../../src/control/schedule.ts";
import type { FixedGainSet } from "../../src/control/spec.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint, type Pulse } from "../../src/craft/model.ts";
import { eigenvalues } from "../../src/math/eigenvalues.ts";
import { loadDocument } from "../../src/scenario/load.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft, gainSets } = loaded.scenario;
const [cautious, firmer] = gainSets.map((set) => fixedSet(set, 0, 0)) as [FixedGainSet, FixedGainSet];
/** The boom on its forward stop, the scoop level: as far as it reaches, with as much as it carries. */
const FAR: OperatingPoint = { ...NOMINAL_POINT, limbRad: [Math.PI, -Math.PI], load: "heaviest" };

/**
 * Clocks that repeat every 10 ms, for a map whose eigenvalues have not died away. Servos that take no current: in flight it follows their torque and moves the battery's voltage, in the
 * linear model it stands still, which makes 0.009 per second on the slowest mode of the motors.
 */
function ticking(pulse: Pulse, load: Partial<Craft["load"]> = {}): Craft {
	const { timing } = craft;
	if (timing.attitude.kind !== "fused") throw new Error("expected a fused attitude");
	const { limb } = craft;
	const links = limb!.links.map((link) => ({ ...link, servo: { ...link.servo, stallCurrentA: 0 } }));
	return {
		...craft,
		limb: { ...limb!, links },
		load: { ...craft.load, ...load },
		timing: {
			...timing,
			pulse,
			gyro: { ...timing.gyro, phaseUs: 0 },
			escFrame: { periodUs: 2000, phaseUs: 0 },
			attitude: { ...timing.attitude, clock: { periodUs: 10_000, phaseUs: 0 } },
		},
	};
}
const DIGITAL: Pulse = { kind: "digital", transportUs: 300, steps: 0 };
const tether = { lengthM: 0.5, dampingRatio: 0.01 };
const liquid = { share: 0.5, lengthM: 0.05, dampingRatio: 0.02 };

const report = (of: Craft, set: FixedGainSet, point: OperatingPoint): MarginsReport => {
	const found = marginsReport(of, set, point);
	if (!found.feasible) throw new Error(found.reason);
	return found.report;
};

interface Mode {
	readonly growthPerSec: number;
	readonly radPerSec: number;
}

/** What grows or dies over one map and how fast it turns, where there is enough of it left to see; keepers of their value left out. */
function modes(map: Float64Array, size: number, seconds: number): Mode[] {
	const { re, im } = eigenvalues(map, size);
	return Array.from(re, (a, i) => ({ a, b: im[i]!, radius: Math.hypot(a, im[i]!) }))
		.filter(({ b, radius }) => b >= 0 && radius > 0.05 && Math.abs(radius - 1) > 1e-7)
		.map(({ a, b, radius }) => ({
			growthPerSec: Math.log(radius) / seconds,
			radPerSec: Math.atan2(b, a) / seconds,
		}));
}

/** The flight's modes, each with its distance from the nearest one of the lifted loop. */
function apart(
	of: Craft,
	set: FixedGainSet,
	check: HyperperiodCheck,
): (Mode & { readonly byPerSec: number })[] {
	const found = linearise(of, FAR);
	if (!found.feasible) throw new Error(found.reason);
	const loop = liftedLoop(found.linear, timingChain(of.timing), set, [0, 1, 2], [], true);
	const { map, size } = loop.map([UNCHANGED, UNCHANGED, UNCHANGED]);
	const linear = modes(map, size, loop.hyperperiodSec);
	return modes(check.map, check.size, check.hyperperiodSec).map((mode) => ({
		...mode,
		byPerSec: Math.min(
			...linear.map((each) =>
				Math.hypot(each.growthPerSec - mode.growthPerSec, each.radPerSec - mode.radPerSec),
			),
		),
	}));
}

describe("the flight's own map with the limb stretched out and the heaviest load", () => {
	it.each([
		["A", cautious],
		["B", firmer],
	])("set %s, the craft's own clocks: growth as the lifted loop has it, within 1e-4 per second", (_, set) => {
		const check = hyperperiodCheck(craft, set, FAR);
		const { periodic } = report(craft, set, FAR);
		expect(check.verdict).toBe(periodic.stable ? "stable" : "unstable");
		expect(Math.log(check.radius / periodic.spectralRadius) / check.hyperperiodSec).toBeCloseTo(0, 4);
	});

	it("leaves where the margins say that pitch does, by frequency and lifted, within 0.02 dB", () => {
		const of = ticking(DIGITAL);
		const { axes, periodic } = report(of, firmer, FAR);
		const byFrequency = axes.pitch.wholeAxis!.gainMarginUpDb.value!;
		const lifted = periodic.axes.pitch.wholeAxis!.gainMarginUpDb.value!;
		expect(lifted).toBeGreaterThan(3);
		expect(Math.abs(lifted - byFrequency)).toBeLessThan(0.02);
		const at = (db: number) => {
			const k = 10 ** (db / 20);
			const { kp, ki, kd } = firmer.pitch;
			return hyperperiodCheck(
				of,
				{ ...firmer, pitch: { ...firmer.pitch, kp: k * kp, ki: k * ki, kd: k * kd } },
				FAR,
			).verdict;
		};
		expect(at(lifted - 0.02)).toBe("stable");
		expect(at(lifted + 0.02)).toBe("unstable");
	});
});

describe("the flight's own map with a load that swings at the stretched-out limb's end", () => {
	it.each([
		["on a tether, set A", ticking(DIGITAL, { tether }), cautious, true],
		["on a tether, set B", ticking(DIGITAL, { tether }), firmer, false],
		["a liquid, set B", ticking(DIGITAL, { liquid }), firmer, true],
	] as const)("%s: every mode is one of the lifted loop's, within 3e-3 per second", (_, of, set, stable) => {
		const check = hyperperiodCheck(of, set, FAR);
		expect(check.verdict).toBe(stable ? "stable" : "unstable");
		expect(report(of, set, FAR).periodic.stable).toBe(stable);
		const found = apart(of, set, check);
		// Two swings among them, one each way.
		expect(found.filter(({ growthPerSec, radPerSec }) => growthPerSec > -1 && radPerSec > 3)).toHaveLength(2);
		expect(found.length).toBeGreaterThan(11);
		for (const mode of found) expect(mode.byPerSec, JSON.stringify(mode)).toBeLessThan(3e-3);
	});

	it("with pulses as long as their command: one delay an axis stands for motors 0.2 ms apart, slow modes within 0.01 per second, fast ones within 1 %", () => {
		const of = ticking(craft.timing.pulse, { tether });
		const check = hyperperiodCheck(of, firmer, FAR);
		expect(check.verdict).toBe("unstable");
		expect(report(of, firmer, FAR).periodic.stable).toBe(false);
		for (const mode of apart(of, firmer, check)) {
			const size = Math.hypot(mode.growthPerSec, mode.radPerSec);
			expect(mode.byPerSec, JSON.stringify(mode)).toBeLessThan(size < 9 ? 0.01 : 0.01 * size);
		}
	});
});
