import { describe, expect, it } from "vitest";
import { handLoop, personTimesCraft } from "../../src/analysis/hand-loop.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { PERSON } from "../../src/flight/pilot.ts";
import { createResponder } from "../../src/linear/frequency-response.ts";
import { CONTINUOUS } from "../../src/linear/state-space.ts";
import { toStateSpace, transferFunction } from "../../src/linear/transfer-function.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const DEG = 180 / Math.PI;
const craft = sampleCraft();
const found = handLoop(craft, NOMINAL_POINT);
if (typeof found === "string") throw new Error(found);
const loop = found;
/** In these flights hand, receiver and loop begin on one clock: nobody waits, as they do on average. */
const WAIT_SEC = 1e-6 * 0.5 * (20_000 + 2000);

const flown = (durationSec: number, events: DrillEvent[]) => {
	const { trace, status } = fly({
		craft,
		point: NOMINAL_POINT,
		gainSet: sampleGains(),
		drill: { name: "test", about: "", durationSec, heightM: 50, seed: 1, events, wind: STILL_AIR },
		options: { noise: false, rounding: false, recordPeriodUs: 2000 },
	});
	expect(status).toBe("completed");
	return trace;
};

type Complex = readonly [number, number];
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
const over = (a: Complex, [c, d]: Complex): Complex => times(a, [c / (c * c + d * d), -d / (c * c + d * d)]);

/** Throttle and height at w over the last four of eight periods, in a craft that is shaken every 20 ms. */
function shaken(ticks: number, first: DrillEvent[], shake: (atSec: number, wave: number) => DrillEvent) {
	const w = (2 * Math.PI) / (0.02 * ticks);
	const events = [...first];
	for (let k = 0; k < 8 * ticks; k++) events.push(shake(2 + 0.02 * k, Math.sin(w * 0.02 * (k + 0.5))));
	const { columns, length } = flown(2 + 0.16 * ticks, events);
	const rows = 40 * ticks;
	const from = length - 1 - rows;
	const at = (name: string, i: number): number => columns[name]![from + i]!;
	// A drift would leak into the wave: the straight line from end to end is taken out.
	const drift = (at("down", rows) - at("down", 0)) / rows;
	const component = (value: (i: number) => number): Complex => {
		let re = 0;
		let im = 0;
		for (let i = 0; i < rows; i++) {
			re += value(i) * Math.cos(w * at("time", i));
			im -= value(i) * Math.sin(w * at("time", i));
		}
		return [re, im];
	};
	return {
		height: component((i) => drift * i - at("down", i)),
		throttle: component((i) => at("throttle", i)),
	};
}

/** Person from a flight shaken by a force, craft from one shaken at the throttle: the loop opened at the throttle. */
function loopFlown(ticks: number): Complex {
	const keep: DrillEvent = { atSec: 0, kind: "height", heightM: 50, by: "pilot" };
	const pushed = shaken(ticks, [keep], (atSec, wave) => ({
		atSec,
		kind: "force",
		forceN: [0, 0, 0.4 * wave],
		durationSec: 0.02,
	}));
	const driven = shaken(ticks, [], (atSec, wave) => ({
		atSec,
		kind: "throttle",
		throttle: 0.01 * wave,
		ofHover: 1,
	}));
	const [re, im] = times(over(pushed.throttle, pushed.height), over(driven.height, driven.throttle));
	return [-re, -im];
}

describe("person and craft, the linear loop against flights", () => {
	const { num, den, delaySec = 0 } = personTimesCraft(loop.person, loop.heave, loop.chainSec - WAIT_SEC);
	const respond = createResponder(toStateSpace(transferFunction(CONTINUOUS, num, den)));
	const points = [200, 157, 120, 90].map((ticks) => {
		const w = (2 * Math.PI) / (0.02 * ticks);
		const out = new Float64Array(2);
		respond(w, out);
		const [re, im] = loopFlown(ticks);
		const turn = (Math.atan2(im, re) - Math.atan2(out[1]!, out[0]!) + w * delaySec) * DEG;
		return {
			w,
			size: Math.hypot(re, im),
			marginDeg: 180 + Math.atan2(im, re) * DEG,
			ratio: Math.hypot(re, im) / Math.hypot(out[0]!, out[1]!),
			turnDeg: turn - 360 * Math.round(turn / 360),
		};
	});
	it("has the same gain within 0.5 % and the same phase within 0.2 deg from 1.6 to 3.5 rad/s", () => {
		for (const { ratio, turnDeg } of points) {
			expect(Math.abs(ratio - 1)).toBeLessThan(0.005);
			expect(Math.abs(turnDeg)).toBeLessThan(0.2);
		}
	});
	it("crosses over where and with the margin that it announces: within 1 %, and 2 deg with the waits that it averages", () => {
		const [before, after] = [points[0]!, points[2]!];
		const share = Math.log(before.size) / Math.log(before.size / after.size);
		const crossover = before.w * (after.w / before.w) ** share;
		const { crossoverRadPerSec, phaseMarginDeg } = loop.margins;
		expect(Math.abs(crossover / crossoverRadPerSec.value! - 1)).toBeLessThan(0.01);
		const marginDeg = points[1]!.marginDeg;
		expect(points[1]!.w).toBeCloseTo(PERSON.crossoverRadPerSec, 2);
		expect(Math.abs(marginDeg - phaseMarginDeg.value!)).toBeLessThan(2);
	});
});

/** Continuous twin of the loop, stepped at 1 ms from its differential equations; height from a step of the target at 0. */
function linearStep(stepM: number, untilSec: number): Float64Array {
	const { gain, leadSec } = loop.person;
	const { slope, dampingPerSec, lagSec } = loop.heave;
	const dt = 0.001;
	const delay = Math.round((PERSON.delaySec + loop.chainSec - WAIT_SEC) / dt);
	const out = new Float64Array(Math.round(untilSec / dt) + 1);
	const goals = new Float64Array(out.length);
	let [h, v, pull, stick, trim] = [0, 0, 0, 0, 0];
	for (let i = 0; i < out.length; i++) {
		out[i] = h;
		const q = stepM - h - leadSec * v;
		trim += PERSON.trimPerSec * q * dt;
		goals[i] = gain * (q + trim);
		stick += ((i >= delay ? goals[i - delay]! : 0) - stick) * (dt / PERSON.lagSec);
		pull += (stick * slope - pull) * (dt / lagSec);
		v += (pull - dampingPerSec * v) * dt;
		h += v * dt;
	}
	return out;
}

describe("a step of 0.3 m", () => {
	const trace = flown(14, [
		{ atSec: 0, kind: "height", heightM: 50, by: "pilot" },
		{ atSec: 2, kind: "height", heightM: 50.3, by: "pilot" },
	]);
	const down = trace.columns["down"]!;
	const risen = down.subarray(1000).map((d) => down[0]! - d);
	const linear = linearStep(0.3, 12).filter((_, i) => i % 2 === 0);
	it("is flown as the linear loop says, within 2 % of the step at every instant", () => {
		for (let i = 0; i < linear.length; i++) expect(Math.abs(risen[i]! - linear[i]!)).toBeLessThan(0.02 * 0.3);
	});
	it("goes past by as much, within 1 % of the step", () => {
		const most = (list: Float64Array): number => list.reduce((a, b) => Math.max(a, b));
		expect(most(linear)).toBeGreaterThan(0.3);
		expect(Math.abs(most(risen) - most(linear))).toBeLessThan(0.01 * 0.3);
	});
});
