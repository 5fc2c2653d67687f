import type { DiskReport } from "./report-types.ts";

/** Writes a 3 x 3 complex matrix, row by row, Re and Im, at omega. */
export type MatrixResponse = (omegaRadPerSec: number, out: Float64Array) => void;

export function diskReport(_loop: MatrixResponse, _stable: boolean, _low: number, _high: number): DiskReport {
	return { alpha: null, gainDb: null, phaseDeg: null, radPerSec: null, why: "x" };
}
