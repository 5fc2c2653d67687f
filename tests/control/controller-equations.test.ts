import { describe, expect, it } from "vitest";
import { createController } from "../../src/control/controller.ts";
import { createMixer, type MixerOptions } from "../../src/control/mixer.ts";
import { IN, OUT } from "../../src/control/signals.ts";
import { AXES, type FilterSpec, type GainSet } from "../../src/control/spec.ts";
import { createRandom } from "../../src/math/random.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const T = 0.002;
const craft = sampleCraft();

const clamp = (x: number, low: number, high: number): number => Math.max(low, Math.min(high, x));

/** One filter as its difference equation, direct form I: past inputs and outputs instead of the controller's states. */
function plainFilter(spec: FilterSpec) {
	const w = Math.PI * (spec.kind === "notch" ? spec.centreHz : spec.cutoffHz) * T;
	const k = Math.tan(w);
	let b: number[];
	let a: number[];
	if (spec.kind === "lowPass1") {
		b = [k, k, 0];
		a = [1 + k, k - 1, 0];
	} else if (spec.kind === "lowPass2") {
		b = [k * k, 2 * k * k, k * k];
		a = [1 + 2 * spec.damping * k + k * k, 2 * k * k - 2, 1 - 2 * spec.damping * k + k * k];
	} else {
		const half = Math.tan(Math.PI * spec.widthHz * T);
		b = [1, -2 * Math.cos(2 * w), 1];
		a = [1 + half, -2 * Math.cos(2 * w), 1 - half];
	}
	let [x1, x2, y1, y2] = [0, 0, 0, 0];
	return (x: number): number => {
		const y = (b[0]! * x + b[1]! * x1 + b[2]! * x2 - a[1]! * y1 - a[2]! * y2) / a[0]!;
		[x1, x2, y1, y2] = [x, x1, y, y1];
		return y;
	};
}

/** The equations at the head of axis-law.ts, line by line, from rest. */
function plainAxis(set: GainSet, axis: "roll" | "pitch" | "yaw") {
	const g = set[axis];
	const structure = axis === "yaw" ? "rateOnly" : set.structure;
	const filters = set.filters.map(plainFilter);
	const s = { i: 0, d: 0, ratePrev: 0, j: 0, u: 0, short: false };
	const tick = (
		angleSp: number,
		angle: number,
		rateSpGiven: number,
		gyro: number,
		dt: number,
		lifted: boolean,
	) => {
		const rate = filters.reduce((x, filter) => filter(x), gyro);
		let rateSp = clamp(rateSpGiven, -g.rateLimitRadPerSec, g.rateLimitRadPerSec);
		if (structure === "cascade") {
			const error = angleSp - angle;
			const wanted = g.kAngle * error + s.j;
			const held =
				Math.abs(wanted) >= g.rateLimitRadPerSec && Math.sign(error) === Math.sign(wanted) && error !== 0;
			if (!lifted) s.j = 0;
			else if (!held)
				s.j = clamp(
					s.j + g.kAngleI * error * T,
					-g.angleIntegralLimitRadPerSec,
					g.angleIntegralLimitRadPerSec,
				);
			rateSp = clamp(g.kAngle * error + s.j, -g.rateLimitRadPerSec, g.rateLimitRadPerSec);
		}
		if (structure === "anglePid") rateSp = 0;
		const sp = structure === "anglePid" ? angleSp : rateSp;
		const x = structure === "anglePid" ? angle : rate;
		const e = sp - x;
		const beyond = Math.abs(s.u) >= g.outputLimit || s.short;
		if (!lifted) s.i = 0;
		else if (!(beyond && e !== 0 && Math.sign(e) === Math.sign(s.u)))
			s.i = clamp(s.i + g.ki * e * T, -g.integralLimit, g.integralLimit);
		if (dt > 0) {
			const a = Math.exp(-2 * Math.PI * g.derivativeCutoffHz * dt);
			s.d = a * s.d + (1 - a) * (structure === "anglePid" ? -rate : -(rate - s.ratePrev) / dt);
			s.ratePrev = rate;
		}
		s.u = g.kp * (g.setPointWeight * sp - x) + s.i + g.kd * s.d + g.kff * rateSp;
		return { u: clamp(s.u, -g.outputLimit, g.outputLimit), rateSp, integral: s.i };
	};
	const deliver = (u: number, delivered: number): void => {
		s.short = Math.abs(u) - Math.abs(delivered) > 1e-9;
	};
	return { s, tick, deliver };
}

/** The equations at the head of mixer.ts. */
function plainMix(
	o: MixerOptions,
	table: Float64Array,
	throttle: number,
	volts: number,
	u: readonly number[],
) {
	const reference = 14.8;
	const g = o.batteryCompensation ? reference / Math.max(volts, reference / 2) : 1;
	const l = o.thrustLinearisation;
	const demand = (c: number): number => (1 - l) * (c / g) + l * (c / g) ** 2;
	const [lo, hi] = [demand(o.lowestSpin), demand(1)];
	const rows = [0, 1, 2, 3].map((i) => [...table.slice(3 * i, 3 * i + 3)] as [number, number, number]);
	const r = rows.map((m) => m[0] * u[0]! + m[1] * u[1]!);
	const y = rows.map((m) => m[2] * u[2]!);
	const [rMin, rMax] = [Math.min(...r), Math.max(...r)];
	const asked = clamp(throttle, lo, hi);
	let s = rMax > rMin ? Math.min(1, (hi - lo) / (rMax - rMin)) : 1;
	let t = Math.min(asked, hi - s * rMax);
	t = Math.max(t, Math.min(lo - s * rMin, asked + o.throttleRiseCap));
	if (t + s * rMin < lo && rMin < 0) s = Math.min(s, Math.max(0, (lo - t) / rMin));
	const room = y.map((yi, i) => {
		const x = t + s * r[i]!;
		if (yi > 0) return (hi - x) / yi;
		return yi < 0 ? (lo - x) / yi : 1;
	});
	const k = Math.max(0, Math.min(1, ...room));
	const commands = r.map((ri, i) => {
		const x = t + s * ri + k * y[i]!;
		const h = l === 0 ? x : x <= 0 ? 0 : (-(1 - l) + Math.sqrt((1 - l) ** 2 + 4 * l * x)) / (2 * l);
		return clamp(g * h, o.lowestSpin, 1);
	});
	return { commands, delivered: [s * u[0]!, s * u[1]!, k * u[2]!] };
}

const FILTERS: readonly FilterSpec[] = [
	{ kind: "lowPass2", cutoffHz: 90, damping: 0.7 },
	{ kind: "notch", centreHz: 120, widthHz: 40 },
	{ kind: "lowPass1", cutoffHz: 70 },
];
const MIXERS = [{}, { batteryCompensation: true, thrustLinearisation: 0.6 }] as const;
const cases = (["cascade", "anglePid", "rateOnly"] as const).flatMap((structure) =>
	[[], FILTERS].flatMap((filters) =>
		MIXERS.map((change) => [structure, filters.length, change, filters] as const),
	),
);

// Relative where a number exceeds 1 (d, some hundred rad/s^2), else absolute. The filters' direct form I rounds otherwise
// than the controller's form II; without them only the last bit may differ, where a share of yaw is multiplied in another order.
describe("controller against its equations written out, on random ticks", () => {
	it.each(cases)("%s, %i filters, mixer %j", (structure, _count, change, filters) => {
		const base = sampleGains().roll;
		const tilt = { ...base, kAngleI: 0.8, ki: 0.6, kff: 0.02, setPointWeight: 0.7, integralLimit: 0.05 };
		const roll = { ...tilt, rateLimitRadPerSec: 0.9, angleIntegralLimitRadPerSec: 0.02 };
		const yaw = { ...tilt, kp: 0.25, kd: 0.001, outputLimit: 0.2 };
		const set = sampleGains({
			structure,
			roll,
			pitch: { ...roll, kp: 0.13, outputLimit: 0.3 },
			yaw,
			filters,
		});
		const options = { ...craft.mixer, ...change };
		const mixer = createMixer(options, {
			centreOfMassM: [0, 0, 0],
			referenceVoltageV: 14.8,
			rotors: craft.rotors.map((r) => ({ ...r, thrustSlope: 12, torqueSlope: 0.2 })),
		});
		const controller = createController(set, T, mixer);
		const state = new Float64Array(controller.stateLength);
		const input = new Float64Array(IN.length);
		const output = new Float64Array(controller.outputLength);
		const axes = AXES.map((axis) => plainAxis(set, axis));
		const random = createRandom(17);
		const seen = { clamped: 0, short: 0, saturated: 0 };
		let worst = 0;
		const near = (got: number, wanted: number): void => {
			worst = Math.max(worst, Math.abs(got - wanted) / Math.max(1, Math.abs(wanted)));
		};
		for (let k = 0; k < 3000; k++) {
			const size = k % 300 < 150 ? 0.1 : 1;
			for (let i = 0; i < 3; i++) {
				input[IN.angleSetPoint + i] = 0.4 * size * random.normal();
				input[IN.angle + i] = 0.4 * size * random.normal();
				input[IN.rateSetPoint + i] = size * random.normal();
				input[IN.rate + i] = size * random.normal();
			}
			input[IN.throttle] = random.uniform();
			input[IN.voltage] = 6 + 12 * random.uniform();
			input[IN.rateSpacing] = T * (k % 3);
			input[IN.lifted] = k % 500 < 20 ? 0 : 1;
			input[IN.live] = 1;
			controller.tick(state, input, output);
			const plain = axes.map(({ tick }, i) =>
				tick(
					input[IN.angleSetPoint + i]!,
					input[IN.angle + i]!,
					input[IN.rateSetPoint + i]!,
					input[IN.rate + i]!,
					input[IN.rateSpacing]!,
					input[IN.lifted] === 1,
				),
			);
			const u = plain.map((p) => p.u);
			const mixed = plainMix(options, mixer.table, input[IN.throttle]!, input[IN.voltage]!, u);
			axes.forEach(({ s, deliver }, i) => {
				near(output[OUT.u + i]!, u[i]!);
				near(output[OUT.rateSetPoint + i]!, plain[i]!.rateSp);
				near(output[OUT.integral + i]!, s.i);
				near(output[OUT.delivered + i]!, mixed.delivered[i]!);
				const at = controller.axisAt[i]!;
				near(state[at + 1]!, s.d);
				near(state[at + 3]!, s.j);
				deliver(u[i]!, mixed.delivered[i]!);
				if (Math.abs(s.u) > set[AXES[i]!].outputLimit) seen.clamped++;
				if (s.short) seen.short++;
			});
			mixed.commands.forEach((command, i) => {
				near(output[OUT.commands + i]!, command);
			});
			if (output[OUT.saturated]) seen.saturated++;
		}
		expect(worst).toBeLessThanOrEqual(filters.length === 0 ? 1e-15 : 1e-13);
		// What limits do was in play.
		expect(Math.min(seen.clamped, seen.short, seen.saturated)).toBeGreaterThan(50);
	});
});
