/** What a rotor's lift and speed follow, shared by both ways through the equations of motion; calls are inlined. */

/** A branch, which costs less than Math.max. */
export const positive = (v: number): number => {
	if (v < 0) return 0;
	return v;
};

/** Rate of change of a rotor's speed, rad/s^2, `gap` below what it is led to; `up`, `down`: 1 / time constant, 1/s. */
export const lagged = (gap: number, up: number, down: number): number => gap * (gap > 0 ? up : down);

/**
 * Cheeseman and Bennett: 1 / (1 - (R/4z)^2 / (1 + (V/vh)^2)), z no less than `lowest`, R/2; `induced`: vh^2, `lost`: (R/4)^2 vh^2.
 * The 1e-30, far below any speed's square, stands for a rotor at rest in still air, which gains nothing.
 */
export function groundGain(
	lowest: number,
	induced: number,
	lost: number,
	hubHeight: number,
	sidewaysSquared: number,
): number {
	let height = hubHeight;
	if (height < lowest) height = lowest;
	const free = height * height * (induced + (sidewaysSquared + 1e-30));
	return free / (free - lost);
}
