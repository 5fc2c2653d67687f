import { solve } from "../math/matrix.ts";
import { type DiskMargin, diskMargin } from "./disk-margin.ts";
import type { DiskReport } from "./report-types.ts";

/** Writes the 3 x 3 loop at u, row by row, Re and Im, at omega. */
export type MatrixResponse = (omegaRadPerSec: number, out: Float64Array) => void;

const POINTS = 120;

/**
 * Balanced disk margin of roll, pitch and yaw disturbed together at u. Of axes that do not act on each other it is the least of
 * their own: mu of a diagonal matrix is its largest entry.
 */
export function diskReport(
	loop: MatrixResponse,
	stable: boolean,
	low: number,
	high: number,
	coupled: boolean,
): DiskReport {
	if (!stable)
		return {
			alpha: null,
			gainDb: null,
			phaseDeg: null,
			radPerSec: null,
			why: "the craft with these gains is unstable",
		};
	const omega = Float64Array.from({ length: POINTS }, (_, i) => low * (high / low) ** (i / (POINTS - 1)));
	const found = coupled ? together(loop, omega) : apart(loop, omega);
	return {
		alpha: found.alpha,
		gainDb: 20 * Math.log10(found.gainMax),
		phaseDeg: found.phaseDeg,
		radPerSec: found.radPerSec,
		why: "",
	};
}

function apart(loop: MatrixResponse, omega: Float64Array): DiskMargin {
	const q = new Float64Array(18);
	const each = [0, 1, 2].map((i) =>
		diskMargin(
			(w, re, im) => {
				loop(w, q);
				const r = 1 + q[8 * i]!;
				const m = q[8 * i + 1]!;
				const size = r * r + m * m;
				re[0] = r / size;
				im[0] = -m / size;
			},
			1,
			omega,
		),
	);
	return each.reduce((least, d) => (d.alpha < least.alpha ? d : least));
}

function together(loop: MatrixResponse, omega: Float64Array): DiskMargin {
	const q = new Float64Array(18);
	const block = new Float64Array(36);
	const one = new Float64Array(36).map((_, i) => (i % 7 === 0 ? 1 : 0));
	return diskMargin(
		(w, re, im) => {
			// Complex inverse through the real 6 x 6 form [[Re, -Im], [Im, Re]].
			loop(w, q);
			for (let i = 0; i < 3; i++)
				for (let j = 0; j < 3; j++) {
					const r = q[2 * (3 * i + j)]! + (i === j ? 1 : 0);
					const m = q[2 * (3 * i + j) + 1]!;
					block[6 * i + j] = r;
					block[6 * (i + 3) + j + 3] = r;
					block[6 * i + j + 3] = -m;
					block[6 * (i + 3) + j] = m;
				}
			const inverse = solve(block, one, 6, 6);
			for (let i = 0; i < 3; i++)
				for (let j = 0; j < 3; j++) {
					re[3 * i + j] = inverse[6 * i + j]!;
					im[3 * i + j] = inverse[6 * (i + 3) + j]!;
				}
		},
		3,
		omega,
	);
}
