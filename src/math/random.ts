/**
 * Seeded random numbers: sfc32 (Chris Doty-Humphrey, PractRand; restated from memory), seeded through
 * splitmix32, and normal deviates by the polar method (Marsaglia and Bray, SIAM Review 6, 1964).
 * The same seed gives the same sequence; independent streams come from different `stream` numbers.
 */
export interface Random {
	/** Uniform on [0, 1), 32 bits. */
	uniform(): number;
	/** Normal with mean 0 and variance 1. */
	normal(): number;
	/** `count` normal deviates to out[at..], the same sequence; allocates nothing, not even a returned number. */
	normals(out: Float64Array, at: number, count: number): void;
}

function splitmix32(seed: number): () => number {
	let a = seed >>> 0;
	return () => {
		a = (a + 0x9e3779b9) >>> 0;
		let t = a ^ (a >>> 16);
		t = Math.imul(t, 0x21f0aaad);
		t ^= t >>> 15;
		t = Math.imul(t, 0x735a2d97);
		return (t ^ (t >>> 15)) >>> 0;
	};
}

/** @param seed any integer; @param stream separates independent uses of one seed. */
export function createRandom(seed: number, stream = 0): Random {
	const mix = splitmix32((seed ^ Math.imul(stream + 1, 0x85ebca6b)) >>> 0);
	// In typed arrays, since numbers kept in closures are boxed anew at every change.
	const state = Int32Array.of(mix(), mix(), mix(), 1);
	const spare = Float64Array.of(Number.NaN, 0);
	const bits = (): number => {
		const a = state[0]!;
		const b = state[1]!;
		const c = state[2]!;
		const t = (((a + b) | 0) + state[3]!) | 0;
		state[3] = (state[3]! + 1) | 0;
		state[0] = b ^ (b >>> 9);
		state[1] = (c + (c << 3)) | 0;
		state[2] = (((c << 21) | (c >>> 11)) + t) | 0;
		return t;
	};
	for (let i = 0; i < 12; i++) bits();
	const uniform = (): number => (bits() >>> 0) / 4294967296;
	const draw = (out: Float64Array, at: number): void => {
		if (!Number.isNaN(spare[0]!)) {
			out[at] = spare[0]!;
			spare[0] = Number.NaN;
			return;
		}
		for (;;) {
			const x = 2 * ((bits() >>> 0) / 4294967296) - 1;
			const y = 2 * ((bits() >>> 0) / 4294967296) - 1;
			const s = x * x + y * y;
			if (s > 0 && s < 1) {
				const f = Math.sqrt((-2 * Math.log(s)) / s);
				out[at] = x * f;
				spare[0] = y * f;
				return;
			}
		}
	};
	const normal = (): number => {
		draw(spare, 1);
		return spare[1]!;
	};
	const normals = (out: Float64Array, at: number, count: number): void => {
		for (let i = 0; i < count; i++) draw(out, at + i);
	};
	return { uniform, normal, normals };
}
