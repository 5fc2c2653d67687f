import { ATTITUDE } from "./kernel-layout.ts";

/** Rotation matrix of a state's attitude, body to world, row by row into `out`. Allocates nothing. */
export function writeTurn(x: Float64Array, out: Float64Array): void {
	const w = x[ATTITUDE]!;
	const i = x[ATTITUDE + 1]!;
	const j = x[ATTITUDE + 2]!;
	const k = x[ATTITUDE + 3]!;
	out[0] = 1 - 2 * (j * j + k * k);
	out[1] = 2 * (i * j - w * k);
	out[2] = 2 * (i * k + w * j);
	out[3] = 2 * (i * j + w * k);
	out[4] = 1 - 2 * (i * i + k * k);
	out[5] = 2 * (j * k - w * i);
	out[6] = 2 * (i * k - w * j);
	out[7] = 2 * (j * k + w * i);
	out[8] = 1 - 2 * (i * i + j * j);
}
