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
	let a = mix();
	let b = mix();
	let c = mix();
	let counter = 1;
	let spare = Number.NaN;
	const bits = (): number => {
		const t = (((a + b) | 0) + counter) | 0;
		counter = (counter + 1) | 0;
		a = b ^ (b >>> 9);
		b = (c + (c << 3)) | 0;
		c = (c << 21) | (c >>> 11);
		c = (c + t) | 0;
		return t >>> 0;
	};
	for (let i = 0; i < 12; i++) bits();
	const uniform = (): number => bits() / 4294967296;
	const normal = (): number => {
		if (!Number.isNaN(spare)) {
			const kept = spare;
			spare = Number.NaN;
			return kept;
		}
		for (;;) {
			const x = 2 * uniform() - 1;
			const y = 2 * uniform() - 1;
			const s = x * x + y * y;
			if (s > 0 && s < 1) {
				const f = Math.sqrt((-2 * Math.log(s)) / s);
				spare = y * f;
				return x * f;
			}
		}
	};
	return { uniform, normal };
}
