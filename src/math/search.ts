/**
 * Root of f between a and b, where f changes sign: Ridders' method (IEEE Trans. Circuits and Systems 26(11), 1979),
 * which keeps the bracket and at least halves it each time. Convergence is quadratic, so that a step of
 * 1e-11, relative, ends it at rounding.
 * @throws RangeError when f has the same sign at both ends.
 */
export function findRoot(f: (x: number) => number, a: number, b: number): number {
	let fa = f(a);
	let fb = f(b);
	if (fa === 0) return a;
	if (fb === 0) return b;
	if (!(fa * fb < 0))
		throw new RangeError(`findRoot: f is ${fa} and ${fb} at the ends, expected a sign change`);
	let last = Number.NaN;
	for (let i = 0; i < 200; i++) {
		const m = a + (b - a) / 2;
		const fm = f(m);
		if (fm === 0) return m;
		const x = m + ((m - a) * Math.sign(fa - fb) * fm) / Math.sqrt(fm * fm - fa * fb);
		const fx = f(x);
		if (fx === 0 || Math.abs(x - last) <= 1e-11 * Math.abs(x)) return x;
		last = x;
		if (fm * fx < 0) {
			[a, fa, b, fb] = m < x ? [m, fm, x, fx] : [x, fx, m, fm];
		} else if (fa * fx < 0) {
			[b, fb] = [x, fx];
		} else {
			[a, fa] = [x, fx];
		}
		if (Math.abs(b - a) <= 4e-16 * Math.max(Math.abs(a), Math.abs(b))) break;
	}
	return Math.abs(fa) < Math.abs(fb) ? a : b;
}

const GOLDEN = (3 - Math.sqrt(5)) / 2;

/**
 * Least value of a function with one valley between a and b; returns [x, f(x)] with x within about relativeTolerance of the
 * larger end: parabolas through the three best points, golden section where they do not help (Brent, Algorithms for
 * Minimization without Derivatives, 1973, chapter 5, from memory).
 */
export function findMinimum(
	f: (x: number) => number,
	a: number,
	b: number,
	relativeTolerance = 1e-8,
): readonly [number, number] {
	const least = relativeTolerance * Math.max(Math.abs(a), Math.abs(b), 1e-300);
	let x = a + GOLDEN * (b - a);
	let fx = f(x);
	/** Second and third best. */
	let w = x;
	let fw = fx;
	let v = x;
	let fv = fx;
	let step = 0;
	let before = 0;
	for (let i = 0; i < 200; i++) {
		const middle = (a + b) / 2;
		if (Math.abs(x - middle) <= 2 * least - (b - a) / 2) break;
		let parabola = false;
		if (Math.abs(before) > least) {
			const r = (x - w) * (fx - fv);
			const q = (x - v) * (fx - fw);
			const over = 2 * (q - r);
			const p = ((x - v) * q - (x - w) * r) * (over > 0 ? -1 : 1);
			const size = Math.abs(over);
			if (Math.abs(p) < Math.abs((size * before) / 2) && p > size * (a - x) && p < size * (b - x)) {
				before = step;
				step = p / size;
				const u = x + step;
				if (u - a < 2 * least || b - u < 2 * least) step = x < middle ? least : -least;
				parabola = true;
			}
		}
		if (!parabola) {
			before = x < middle ? b - x : a - x;
			step = GOLDEN * before;
		}
		const u = Math.abs(step) >= least ? x + step : x + Math.sign(step) * least;
		const fu = f(u);
		if (fu <= fx) {
			if (u < x) b = x;
			else a = x;
			[v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
			continue;
		}
		if (u < x) a = u;
		else b = u;
		if (fu <= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
		else if (fu <= fv || v === x || v === w) [v, fv] = [u, fu];
	}
	return [x, fx];
}
