import { expm } from "../math/expm.ts";
import { solve } from "../math/matrix.ts";
import type { Random } from "../math/random.ts";

/** Low-altitude Dryden turbulence at one place and speed. Lengths in m, speeds in m/s. */
export interface DrydenParameters {
	readonly lengthU: number;
	readonly lengthV: number;
	readonly lengthW: number;
	readonly sigmaU: number;
	readonly sigmaV: number;
	readonly sigmaW: number;
	readonly airspeedMPerSec: number;
	readonly spanM: number;
	/** Height or speed outside what the formulas were made for. */
	readonly extrapolated: boolean;
}

const FOOT = 0.3048;
const LEAST_SPEED = 1;

/**
 * MIL-F-8785C, 10 to 1000 FEET: L_w = h, L_u = L_v = h/(0.177 + 0.000823 h)^1.2, sigma_w = 0.1 W20, sigma_u = sigma_v =
 * sigma_w/(0.177 + 0.000823 h)^0.4. Height is held inside that range and speed at 1 m/s or more; leaving the range, or a
 * speed below 3 m/s, is said as 'extrapolated'.
 */
export function drydenParameters(
	windAt20FtMPerSec: number,
	heightM: number,
	airspeedMPerSec: number,
	spanM: number,
): DrydenParameters {
	const feet = heightM / FOOT;
	const h = Math.min(1000, Math.max(10, feet));
	const base = 0.177 + 0.000823 * h;
	const lengthU = (h / base ** 1.2) * FOOT;
	const sigmaW = 0.1 * windAt20FtMPerSec;
	const sigmaU = sigmaW / base ** 0.4;
	return {
		lengthU,
		lengthV: lengthU,
		lengthW: h * FOOT,
		sigmaU,
		sigmaV: sigmaU,
		sigmaW,
		airspeedMPerSec: Math.max(LEAST_SPEED, airspeedMPerSec),
		spanM,
		extrapolated: h !== feet || airspeedMPerSec < 3,
	};
}

export interface Dryden {
	/** u, v, w (m/s) and p, q, r (rad/s) at the present tick, in axes that follow the mean wind (x along it, z down). */
	readonly values: Float64Array;
	/** On to the next tick. Allocates nothing. */
	advance(): void;
}

/**
 * Forming filters sampled exactly every `tickSec`, started in their steady statistics. Along x = V t/L: u is a first-order
 * process; v and w are sigma (sqrt3 a + (1 - sqrt3) b) with da = -a + noise, db = a - b, which is
 * sigma sqrt(L/V)(1 + sqrt3 (L/V) s)/(1 + (L/V) s)^2. p has the standard's spectrum, one-sided
 * sigma_w^2 0.8 (pi L_w/4b)^(1/3) / (L_w V (1 + (4b w/pi V)^2)); q and r are the slopes of w and v along the path behind
 * first-order lags of 4b/(pi V) and 3b/(pi V) (from memory). The field is frozen and drifts past with the wind, so that q = +w'/V and
 * r = -v'/V. b is the tip-to-tip span: for a rotorcraft a choice.
 */
export function createDryden(par: DrydenParameters, tickSec: number, random: Random): Dryden {
	const { airspeedMPerSec: speed, spanM: b } = par;
	const values = new Float64Array(6);
	const u = firstOrder(par.sigmaU, par.lengthU / speed, tickSec, random);
	const lagP = (4 * b) / (Math.PI * speed);
	const spectrumP =
		(((par.sigmaW ** 2 * 0.8) / speed) * (Math.PI / (4 * b)) ** (1 / 3)) / par.lengthW ** (2 / 3);
	const p = firstOrder(Math.sqrt((spectrumP * Math.PI) / (2 * lagP)), lagP, tickSec, random);
	const v = secondOrder(par.sigmaV, par.lengthV / speed, (3 * b) / (Math.PI * speed), tickSec, random);
	const w = secondOrder(par.sigmaW, par.lengthW / speed, lagP, tickSec, random);
	const publish = (): void => {
		values[0] = u.state[0]!;
		values[1] = v.answer[0]!;
		values[2] = w.answer[0]!;
		values[3] = p.state[0]!;
		values[4] = w.answer[1]! / speed;
		values[5] = -v.answer[1]! / speed;
	};
	publish();
	return {
		values,
		advance() {
			u.advance();
			v.advance();
			w.advance();
			p.advance();
			publish();
		},
	};
}

function firstOrder(sigma: number, lagSec: number, tickSec: number, random: Random) {
	const a = Math.exp(-tickSec / lagSec);
	const drive = sigma * Math.sqrt(-Math.expm1((-2 * tickSec) / lagSec));
	const state = new Float64Array([sigma * random.normal()]);
	const fresh = new Float64Array(1);
	const advance = (): void => {
		random.normals(fresh, 0, 1);
		state[0] = a * state[0]! + drive * fresh[0]!;
	};
	return { state, advance };
}

/**
 * States a, b (time in units of `scaleSec`) and the lagged output z whose distance from the output is the slope; `answer` is
 * [output, slope].
 */
function secondOrder(sigma: number, scaleSec: number, lagSec: number, tickSec: number, random: Random) {
	const c1 = sigma * Math.sqrt(3);
	const c2 = sigma * (1 - Math.sqrt(3));
	const k = scaleSec / lagSec;
	const a = Float64Array.of(-1, 0, 0, 1, -1, 0, k * c1, k * c2, -k);
	const steady = steadyCovariance(a);
	const phi = expm(
		a.map((v) => (v * tickSec) / scaleSec),
		3,
	);
	const spread = cholesky(innovation(phi, steady));
	const state = cholesky(steady);
	const start = new Float64Array(3);
	const noise = Float64Array.of(random.normal(), random.normal(), random.normal());
	for (let i = 0; i < 3; i++) for (let j = 0; j <= i; j++) start[i]! += state[3 * i + j]! * noise[j]!;
	const now = start;
	const next = new Float64Array(3);
	const answer = new Float64Array(2);
	const publish = (): void => {
		answer[0] = c1 * now[0]! + c2 * now[1]!;
		answer[1] = (answer[0]! - now[2]!) / lagSec;
	};
	publish();
	return {
		answer,
		advance(): void {
			random.normals(noise, 0, 3);
			for (let i = 0; i < 3; i++) {
				let sum = 0;
				for (let j = 0; j < 3; j++) sum += phi[3 * i + j]! * now[j]!;
				for (let j = 0; j <= i; j++) sum += spread[3 * i + j]! * noise[j]!;
				next[i] = sum;
			}
			for (let i = 0; i < 3; i++) now[i] = next[i]!;
			publish();
		},
	};
}

/** P of A P + P A^T + B B^T = 0, B = (1, 0, 0): nine linear equations. */
function steadyCovariance(a: Float64Array): Float64Array {
	const m = new Float64Array(81);
	const right = new Float64Array(9);
	right[0] = -1;
	for (let i = 0; i < 3; i++)
		for (let j = 0; j < 3; j++)
			for (let k = 0; k < 3; k++) {
				m[(3 * i + j) * 9 + 3 * k + j]! += a[3 * i + k]!;
				m[(3 * i + j) * 9 + 3 * i + k]! += a[3 * j + k]!;
			}
	return solve(m, right, 9, 1);
}

/** P - Phi P Phi^T. */
function innovation(phi: Float64Array, p: Float64Array): Float64Array {
	const out = Float64Array.from(p);
	for (let i = 0; i < 3; i++)
		for (let j = 0; j < 3; j++)
			for (let k = 0; k < 3; k++)
				for (let l = 0; l < 3; l++) out[3 * i + j]! -= phi[3 * i + k]! * p[3 * k + l]! * phi[3 * j + l]!;
	return out;
}

/** Lower factor; a pivot lost to rounding (short ticks) counts as 0. */
function cholesky(m: Float64Array): Float64Array {
	const l = new Float64Array(9);
	for (let i = 0; i < 3; i++)
		for (let j = 0; j <= i; j++) {
			let sum = m[3 * i + j]!;
			for (let k = 0; k < j; k++) sum -= l[3 * i + k]! * l[3 * j + k]!;
			if (i === j) l[3 * i + i] = Math.sqrt(Math.max(0, sum));
			else l[3 * i + j] = l[3 * j + j]! > 0 ? sum / l[3 * j + j]! : 0;
		}
	return l;
}
