import { attitudeStrip } from "../../src/pictures/attitude-strip.ts";
import { bode } from "../../src/pictures/bode.ts";
import { cornerFan } from "../../src/pictures/corner-fan.ts";
import { gainPlane } from "../../src/pictures/gain-plane.ts";
import { nyquist } from "../../src/pictures/nyquist.ts";
import type { Picture } from "../../src/pictures/picture.ts";
import { stepOverlay } from "../../src/pictures/step-overlay.ts";
import { timeTraces } from "../../src/pictures/time-traces.ts";

const range = (n: number, f: (k: number) => number): Float64Array =>
	Float64Array.from({ length: n }, (_, k) => f(k));
const time = range(1501, (k) => k / 500);
/** Unit step of wn^2/(s^2 + 2 zeta wn s + wn^2) begun at 0.3 s, times 8 deg. */
function step(zeta: number, wn: number): Float64Array {
	const wd = wn * Math.sqrt(1 - zeta * zeta);
	return time.map((t) => {
		const s = t - 0.3;
		if (s <= 0) return 0;
		return 8 * (1 - Math.exp(-zeta * wn * s) * (Math.cos(wd * s) + ((zeta * wn) / wd) * Math.sin(wd * s)));
	});
}
const asked = time.map((t) => (t < 0.3 ? 0 : 8));
const hz = range(300, (k) => 0.1 * 10 ** (k / 115));
/** gain e^{-s tau}/(s (1 + s/20)) */
const loop = (gain: number, tau: number) => {
	const w = hz.map((f) => 2 * Math.PI * f);
	return {
		hz,
		magnitudeDb: w.map((x) => 20 * Math.log10(gain / (x * Math.hypot(1, x / 20)))),
		phaseDeg: w.map((x) => -90 - (Math.atan(x / 20) + x * tau) * (180 / Math.PI)),
	};
};
const polar = (gain: number, tau: number) => {
	const l = loop(gain, tau);
	const point = (f: (angle: number) => number) =>
		l.magnitudeDb.map((db, i) => 10 ** (db / 20) * f((l.phaseDeg[i]! * Math.PI) / 180));
	return { re: point(Math.cos), im: point(Math.sin) };
};
const A = { letter: "A", name: "first guess" };
const B = { letter: "B", name: "even & <calm>" };

/** One of each picture, numbers made up. */
export const SAMPLES: Readonly<Record<string, Picture>> = {
	strip: attitudeStrip({
		title: "Drill 'lift-off'",
		invented: true,
		note: "",
		flights: [
			{
				...A,
				timeSec: time,
				rollRad: step(0.32, 9).map((deg) => (deg * Math.PI) / 180),
				pitchRad: time.map((t) => -0.02 * t),
				yawRad: time.map(() => 0),
				rollAskedRad: asked.map((deg) => (deg * Math.PI) / 180),
				pitchAskedRad: time.map(() => 0),
				heightM: time.map((t) => 0.1 * t * t),
				busiestCommand: time.map((t) => (t < 0.2 ? 0 : 0.5)),
			},
		],
		views: ["behind", "right", "above"],
		timeRange: null,
		events: [{ timeSec: 2.8, text: "A: flipped over" }],
		count: 12,
	}),
	step: stepOverlay({
		title: "Roll, step of 8 deg",
		invented: true,
		note: "sandpiper, battery nominal, no load, hover",
		label: "roll angle",
		unit: "deg",
		curves: [
			{ ...A, timeSec: time, values: step(0.32, 9) },
			{ ...B, timeSec: time, values: step(0.8, 7) },
			{ letter: "C", name: "gentle", timeSec: time, values: step(0.95, 4) },
		],
		setPoint: { timeSec: time, values: asked },
	}),
	bode: bode({
		title: "Rate loop of roll, opened at u",
		invented: false,
		note: "",
		curves: [
			{ ...A, ...loop(18, 0.012), phaseMargin: { hz: 2.3, deg: 43 }, gainMargin: { hz: 6.25, db: 13.6 } },
			{ ...B, ...loop(9, 0.012), phaseMargin: { hz: 1.3, deg: 62 }, gainMargin: { hz: 6.25, db: 19.6 } },
		],
	}),
	nyquist: nyquist({
		title: "Rate loop of roll in the complex plane",
		invented: true,
		curves: [
			{ ...A, ...polar(18, 0.012) },
			{ ...B, ...polar(9, 0.012) },
		],
		msLimit: 1.6,
	}),
	fan: cornerFan({
		title: "Roll, step of 8 deg in every corner",
		invented: false,
		label: "roll angle",
		unit: "deg",
		set: A,
		timeSec: time,
		nominal: step(0.6, 7),
		setPoint: asked,
		corners: range(12, (k) => k).reduce<{ name: string; values: Float64Array }[]>((all, k) => {
			all.push({ name: `corner ${k + 1}`, values: step(0.35 + 0.04 * k, 5.5 + 0.3 * k) });
			return all;
		}, []),
		worst: 0,
	}),
	plane: gainPlane({
		title: "Gain plane of roll",
		invented: true,
		x: { label: "kp", unit: "us per deg/s", scale: "log", values: range(50, (k) => 0.5 * 20 ** (k / 49)) },
		y: { label: "k_angle", unit: "1/s", scale: "linear", values: range(50, (k) => 0.5 + (k * 11.5) / 49) },
		values: range(2500, (i) => {
			const kp = 0.5 * 20 ** ((i % 50) / 49);
			const ka = 0.5 + (Math.floor(i / 50) * 11.5) / 49;
			return 0.55 - 0.05 * ka - 0.4 * Math.log(kp / 2.2) ** 2 + 0.02 * ka * Math.log(kp);
		}),
		label: "worst corner",
		unit: "distance",
		outline: 0,
		sets: [
			{ ...A, x: 2.37, y: 4 },
			{ ...B, x: 1.5, y: 3 },
		],
	}),
	traces: timeTraces({
		title: "Gust from the left",
		invented: true,
		note: "seed 7",
		panels: [
			{
				label: "roll",
				unit: "deg",
				lines: [
					{ ...A, timeSec: time, values: step(0.3, 9) },
					{ ...B, timeSec: time, values: step(0.7, 8) },
					{ letter: "", name: "asked for", timeSec: time, values: asked },
				],
			},
			{
				label: "roll rate",
				unit: "deg/s",
				lines: [{ ...A, timeSec: time, values: time.map((t) => 40 * Math.sin(9 * t) * Math.exp(-t)) }],
			},
			{
				label: "front right command",
				unit: "%",
				lines: [
					{ ...A, timeSec: time, values: time.map((t) => 46 + 5 * Math.sin(40 * t) * Math.exp(-2 * t)) },
				],
			},
		],
		events: [{ timeSec: 0.3, text: "gust begins" }],
	}),
};
