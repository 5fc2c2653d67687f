/**
 * Root of f between a and b, where f changes sign: Ridders' method (IEEE Trans. Circuits and Systems 26(11), 1979),
 * which keeps the bracket and at least halves it each time. Ends when steps are down to rounding.
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
		if (fx === 0 || Math.abs(x - last) <= 4e-16 * Math.abs(x)) return x;
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

/** Least value of a function with one valley between a and b, by golden section; returns [x, f(x)]. */
export function findMinimum(
	f: (x: number) => number,
	a: number,
	b: number,
	relativeTolerance = 1e-9,
): readonly [number, number] {
	let x = a + GOLDEN * (b - a);
	let y = b - GOLDEN * (b - a);
	let fx = f(x);
	let fy = f(y);
	const least = relativeTolerance * Math.max(Math.abs(a), Math.abs(b), 1e-300);
	while (b - a > least) {
		if (fx <= fy) {
			b = y;
			y = x;
			fy = fx;
			x = a + GOLDEN * (b - a);
			fx = f(x);
		} else {
			a = x;
			x = y;
			fx = fy;
			y = b - GOLDEN * (b - a);
			fy = f(y);
		}
		if (!(x < y)) break;
	}
	return fx <= fy ? [x, fx] : [y, fy];
}
