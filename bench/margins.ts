import { createScanResult, scanMargins } from "../src/analysis/margins-scan.ts";

/** Times 2,500 gain pairs of a PI loop on a delayed double lag: L from plant arrays of 300 points, then its margins. */
export function benchMargins(): {
	readonly cells: number;
	readonly seconds: number;
	readonly checksum: number;
} {
	const points = 300;
	const omega = new Float64Array(points);
	const plantRe = new Float64Array(points);
	const plantIm = new Float64Array(points);
	for (let i = 0; i < points; i++) {
		const w = 0.1 * 1e4 ** (i / (points - 1));
		// e^(-0.01 s) / (s (0.05 s + 1))
		const turn = -Math.PI / 2 - Math.atan(0.05 * w) - 0.01 * w;
		const size = 1 / (w * Math.hypot(1, 0.05 * w));
		omega[i] = w;
		plantRe[i] = size * Math.cos(turn);
		plantIm[i] = size * Math.sin(turn);
	}
	const re = new Float64Array(points);
	const im = new Float64Array(points);
	const result = createScanResult();
	const run = (): number => {
		let sum = 0;
		for (let cell = 0; cell < 2500; cell++) {
			const kp = 0.2 + 0.2 * (cell % 50);
			const ki = 0.1 * Math.floor(cell / 50);
			for (let i = 0; i < points; i++) {
				const c = -ki / omega[i]!;
				re[i] = kp * plantRe[i]! - c * plantIm[i]!;
				im[i] = kp * plantIm[i]! + c * plantRe[i]!;
			}
			sum += scanMargins(omega, re, im, result).ms;
		}
		return sum;
	};
	run();
	const start = performance.now();
	const checksum = run();
	return { cells: 2500, seconds: (performance.now() - start) / 1000, checksum };
}
