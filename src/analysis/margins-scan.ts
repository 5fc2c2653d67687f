/** What `scanMargins` writes. Infinity: no such crossing in the scan, so nothing to limit. */
export interface ScanResult {
	ms: number;
	/** Least |180 + arg L| over all gain crossings. */
	phaseMarginDeg: number;
	gainMarginUpDb: number;
	gainMarginDownDb: number;
	delayMarginSec: number;
	/** Highest gain crossing; 0 when |L| never meets 1. */
	crossoverRadPerSec: number;
}

export const createScanResult = (): ScanResult => ({
	ms: 1,
	phaseMarginDeg: Infinity,
	gainMarginUpDb: Infinity,
	gainMarginDownDb: Infinity,
	delayMarginSec: Infinity,
	crossoverRadPerSec: 0,
});

/** The cubic through four neighbours, in powers of the place u in [0, 1] between the two inner ones. */
const cubicRe = new Float64Array(4);
const cubicIm = new Float64Array(4);
/** Log of omega at the interval's start, and its length. */
const span = new Float64Array(2);

/**
 * Margins of a loop known to be STABLE (unstable ones give numbers without meaning), from L on a fixed rising
 * grid of omega (rad/s), at least four points, by local cubics of L in log omega. Where the grid ends at pi/T, L there is
 * real and a negative one is a phase crossing. A pair of crossings inside one interval is found where the cubic has it. Makes no arrays or objects. Good to 0.01 dB where neighbours are within about
 * 5 % in omega and no resonance is narrower than that.
 */
export function scanMargins(
	omega: Float64Array,
	re: Float64Array,
	im: Float64Array,
	out: ScanResult,
): ScanResult {
	const n = omega.length;
	if (n < 4 || re.length !== n || im.length !== n)
		throw new RangeError(`scanMargins: ${n}, ${re.length}, ${im.length} points, expected 4 or more, as many`);
	reset(out);
	let leastS = Infinity;
	let x0 = re[0]!;
	let y0 = im[0]!;
	let l0 = x0 * x0 + y0 * y0;
	for (let i = 1; i < n; i++) {
		const x = re[i]!;
		const y = im[i]!;
		const l = x * x + y * y;
		const s0 = l0 + 2 * x0 + 1;
		if (s0 < leastS) leastS = s0;
		// Little of a loop lies where anything can cross.
		if (y0 > 0 !== y > 0 || (l < 4 && l > 0.25) || l0 > 1 !== l > 1 || (x < 0 && y < -x && -y < -x))
			look(omega, re, im, i, out);
		x0 = x;
		y0 = y;
		l0 = l;
	}
	const s0 = l0 + 2 * x0 + 1;
	if (s0 < leastS) leastS = s0;
	out.ms = 1 / Math.sqrt(refined(omega, re, im, leastS));
	return out;
}

/** All crossings between point i - 1 and i, and pairs about i. */
function look(omega: Float64Array, re: Float64Array, im: Float64Array, i: number, out: ScanResult): void {
	const x0 = re[i - 1]!;
	const y0 = im[i - 1]!;
	const x = re[i]!;
	const y = im[i]!;
	const isLast = i === omega.length - 1;
	if (isLast && isReal(x, y)) notePhase(x, out);
	else if (y0 > 0 !== y > 0 && (x0 < 0 || x < 0)) {
		fitCubic(omega, re, im, i);
		notePhase(at(cubicRe, zeroBetween(IMAGINARY, 0, 1)), out);
	}
	const l0 = x0 * x0 + y0 * y0;
	const l = x * x + y * y;
	if (l0 > 1 !== l > 1) {
		fitCubic(omega, re, im, i);
		noteGain(zeroBetween(EXCESS, 0, 1), out);
	}
	if (isLast) return;
	// A pair of crossings inside an interval shows as a point nearer to the limit than both neighbours, all on one side.
	const x1 = re[i + 1]!;
	const y1 = im[i + 1]!;
	const l1 = x1 * x1 + y1 * y1;
	const above = l > 1 && l < 4 && l0 >= l && l1 >= l;
	const below = l < 1 && l > 0.25 && l0 <= l && l1 <= l;
	if (above || below) lookForPair(EXCESS, omega, re, im, i, above, out);
	if (!(x < 0 && Math.abs(y) < -x)) return;
	const left = y > 0 && y0 >= y && y1 >= y;
	const right = y < 0 && y0 <= y && y1 <= y;
	if (left || right) lookForPair(IMAGINARY, omega, re, im, i, left, out);
}

function reset(out: ScanResult): void {
	out.phaseMarginDeg = Infinity;
	out.gainMarginUpDb = Infinity;
	out.gainMarginDownDb = Infinity;
	out.delayMarginSec = Infinity;
	out.crossoverRadPerSec = 0;
}

/** L is `size` on the real axis: a phase crossing if negative. */
function notePhase(size: number, out: ScanResult): void {
	if (!(size < 0)) return;
	const db = -20 * Math.log10(-size);
	if (db > 0) out.gainMarginUpDb = Math.min(out.gainMarginUpDb, db);
	else out.gainMarginDownDb = Math.min(out.gainMarginDownDb, -db);
}

/** |L| is 1 at u of the cubic. */
function noteGain(u: number, out: ScanResult): void {
	const w = Math.exp(span[0]! + u * span[1]!);
	const angle = Math.atan2(-at(cubicIm, u), -at(cubicRe, u));
	out.phaseMarginDeg = Math.min(out.phaseMarginDeg, (Math.abs(angle) * 180) / Math.PI);
	out.delayMarginSec = Math.min(out.delayMarginSec, (angle > 0 ? angle : angle + 2 * Math.PI) / w);
	out.crossoverRadPerSec = Math.max(out.crossoverRadPerSec, w);
}

/** A pair of crossings on both sides of point i, where what vanishes turns about. */
function lookForPair(
	what: typeof EXCESS | typeof IMAGINARY,
	omega: Float64Array,
	re: Float64Array,
	im: Float64Array,
	i: number,
	above: boolean,
	out: ScanResult,
): void {
	for (let j = i; j <= i + 1; j++) {
		fitCubic(omega, re, im, j);
		const turn = turningPoint(what, above);
		if (turn < 0) continue;
		noteAt(what, zeroBetween(what, 0, turn), out);
		noteAt(what, zeroBetween(what, turn, 1), out);
	}
}

function noteAt(what: typeof EXCESS | typeof IMAGINARY, u: number, out: ScanResult): void {
	if (what === EXCESS) noteGain(u, out);
	else notePhase(at(cubicRe, u), out);
}

const isReal = (x: number, y: number): boolean => x < 0 && Math.abs(y) <= 1e-9 * -x;

/** The grid's least |1 + L|^2 sharpened within every interval next to a point nearer to -1 than its neighbours. */
function refined(omega: Float64Array, re: Float64Array, im: Float64Array, least: number): number {
	let best = least;
	const near = 1.2 * least;
	for (let i = 1; i < omega.length - 1; i++) {
		const s = distance(re[i]!, im[i]!);
		if (!(s <= near)) continue;
		if (!(s <= distance(re[i - 1]!, im[i - 1]!) && s <= distance(re[i + 1]!, im[i + 1]!))) continue;
		fitCubic(omega, re, im, i);
		best = Math.min(best, nearest());
		fitCubic(omega, re, im, i + 1);
		best = Math.min(best, nearest());
	}
	return best;
}

const distance = (x: number, y: number): number => (1 + x) * (1 + x) + y * y;

const knownLogs = new WeakMap<Float64Array, Float64Array>();
/** The last grid asked for: a scan asks for its own again and again. */
let lastGrid: Float64Array | null = null;
let lastLogs = new Float64Array(0);

/** ln omega of a grid, which is never written to: many loops are scanned on one. */
function logsOf(omega: Float64Array): Float64Array {
	if (omega === lastGrid) return lastLogs;
	let logs = knownLogs.get(omega);
	if (!logs) {
		logs = omega.map(Math.log);
		knownLogs.set(omega, logs);
	}
	lastGrid = omega;
	lastLogs = logs as Float64Array<ArrayBuffer>;
	return logs;
}

/** Cubic through points i-2 .. i+1 (shifted inwards at the ends), u running from point i-1 to point i. */
function fitCubic(omega: Float64Array, re: Float64Array, im: Float64Array, i: number): void {
	const first = Math.min(Math.max(i - 2, 0), omega.length - 4);
	const logs = logsOf(omega);
	const start = logs[i - 1]!;
	const wide = logs[i]! - start;
	span[0] = start;
	span[1] = wide;
	const x0 = (logs[first]! - start) / wide;
	const x1 = (logs[first + 1]! - start) / wide;
	const x2 = (logs[first + 2]! - start) / wide;
	const x3 = (logs[first + 3]! - start) / wide;
	newton(re, first, x0, x1, x2, x3, cubicRe);
	newton(im, first, x0, x1, x2, x3, cubicIm);
}

/** Newton's divided differences, expanded to powers. */
function newton(
	y: Float64Array,
	first: number,
	x0: number,
	x1: number,
	x2: number,
	x3: number,
	out: Float64Array,
): void {
	const d0 = y[first]!;
	const d01 = (y[first + 1]! - d0) / (x1 - x0);
	const d12 = (y[first + 2]! - y[first + 1]!) / (x2 - x1);
	const d23 = (y[first + 3]! - y[first + 2]!) / (x3 - x2);
	const d012 = (d12 - d01) / (x2 - x0);
	const d123 = (d23 - d12) / (x3 - x1);
	const d = (d123 - d012) / (x3 - x0);
	const c = d012 - d * (x0 + x1 + x2);
	out[3] = d;
	out[2] = c;
	out[1] = d01 - d012 * (x0 + x1) + d * (x0 * x1 + x0 * x2 + x1 * x2);
	out[0] = d0 - d01 * x0 + d012 * x0 * x1 - d * x0 * x1 * x2;
}

const at = (c: Float64Array, u: number): number => c[0]! + u * (c[1]! + u * (c[2]! + u * c[3]!));

const IMAGINARY = 0;
const EXCESS = 1;

/** Im L, or |L|^2 - 1, at u of the cubic. */
function limit(which: number, u: number): number {
	const y = at(cubicIm, u);
	if (which === IMAGINARY) return y;
	const x = at(cubicRe, u);
	return x * x + y * y - 1;
}

/** A zero between a and b, where signs differ, by bisection and false position in turn. */
function zeroBetween(which: number, from: number, to: number): number {
	let a = from;
	let b = to;
	let fa = limit(which, a);
	let fb = limit(which, b);
	for (let k = 0; k < 12; k++) {
		const u = k % 3 === 2 ? (a + b) / 2 : a - (fa * (b - a)) / (fb - fa);
		const f = limit(which, u);
		if (Math.abs(f) < 1e-12) return u;
		if (f > 0 === fa > 0) {
			a = u;
			fa = f;
		} else {
			b = u;
			fb = f;
		}
	}
	return (a + b) / 2;
}

/** Where in (0, 1) the limit, above 0 at the ends (or below), has passed to the other side; -1: nowhere. */
function turningPoint(which: number, above: boolean): number {
	const side = above ? 1 : -1;
	const g = 0.3819660112501051;
	let a = 0;
	let b = 1;
	let p = g;
	let q = 1 - g;
	let fp = side * limit(which, p);
	let fq = side * limit(which, q);
	for (let k = 0; k < 18; k++) {
		if (fp < 0) return p;
		if (fq < 0) return q;
		if (fp <= fq) {
			b = q;
			q = p;
			fq = fp;
			p = a + g * (b - a);
			fp = side * limit(which, p);
		} else {
			a = p;
			p = q;
			fp = fq;
			q = b - g * (b - a);
			fq = side * limit(which, q);
		}
	}
	return -1;
}

/** Least |1 + L|^2 of the cubic on [0, 1], by golden section. */
function nearest(): number {
	const g = 0.3819660112501051;
	let a = 0;
	let b = 1;
	let p = g;
	let q = 1 - g;
	let fp = distanceAt(p);
	let fq = distanceAt(q);
	for (let k = 0; k < 9; k++) {
		if (fp <= fq) {
			b = q;
			q = p;
			fq = fp;
			p = a + g * (b - a);
			fp = distanceAt(p);
		} else {
			a = p;
			p = q;
			fp = fq;
			q = b - g * (b - a);
			fq = distanceAt(q);
		}
	}
	return Math.min(fp, fq);
}

const distanceAt = (u: number): number => distance(at(cubicRe, u), at(cubicIm, u));
