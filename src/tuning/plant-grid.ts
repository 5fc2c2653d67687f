import type { AxisPlant } from "../analysis/axis-plant.ts";

/** Neighbours farther apart in phase than this get a point between them. */
const LARGEST_TURN = 0.8;
const DEEPEST = 12;
/** Above this share of pi/T phase turns by delay alone, which an even grid follows. */
const SLOW_SHARE = 0.03;

/**
 * Frequencies from `lowest` to pi/T, even in log omega, denser where the craft's slow swing (speed against tilt, hardly damped,
 * stable or not) turns the phase by half a turn within a few per cent: which way round it goes must be seen.
 */
export function plantGrid(plant: AxisPlant, lowest: number, pointsPerDecade: number): Float64Array {
	const highest = Math.PI / plant.periodSec;
	const steps = Math.max(8, Math.ceil(Math.log10(highest / lowest) * pointsPerDecade));
	const grid: number[] = [];
	const out = new Float64Array(4);
	const at = plant.axis === "yaw" ? 0 : 2;
	const answer = (omega: number): readonly [number, number] => {
		plant.respond(omega, out);
		return [out[at]!, out[at + 1]!];
	};
	const between = (
		a: number,
		ra: readonly [number, number],
		b: number,
		rb: readonly [number, number],
		depth: number,
	): void => {
		const turn = Math.atan2(rb[1] * ra[0] - ra[1] * rb[0], ra[0] * rb[0] + ra[1] * rb[1]);
		if (Math.abs(turn) < LARGEST_TURN || depth === 0) return;
		const m = Math.sqrt(a * b);
		const rm = answer(m);
		between(a, ra, m, rm, depth - 1);
		grid.push(m);
		between(m, rm, b, rb, depth - 1);
	};
	let last = lowest;
	let lastAnswer = answer(lowest);
	for (let i = 0; i <= steps; i++) {
		const omega = i === steps ? highest : lowest * (highest / lowest) ** (i / steps);
		if (i > 0 && omega < SLOW_SHARE * highest) {
			const here = answer(omega);
			between(last, lastAnswer, omega, here, DEEPEST);
			last = omega;
			lastAnswer = here;
		}
		grid.push(omega);
	}
	return Float64Array.from(grid);
}
