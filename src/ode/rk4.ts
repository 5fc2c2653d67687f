/**
 * The classic fourth-order Runge-Kutta method (Kutta, Z. Math. Phys. 46, 1901) as data: stage i is evaluated at t +
 * c[i] h from the state x + h sum a[i][j] k[j]; the step adds h sum b[i] k[i].
 */
export const RK4 = {
	a: [[], [1 / 2], [0, 1 / 2], [0, 0, 1]],
	b: [1 / 6, 1 / 3, 1 / 3, 1 / 6],
	c: [0, 1 / 2, 1 / 2, 1],
} as const satisfies {
	readonly a: readonly (readonly number[])[];
	readonly b: readonly number[];
	readonly c: readonly number[];
};

/** Writes dx/dt at time t and state x into out. */
export type Derivative = (t: number, x: Float64Array, out: Float64Array) => void;

/** A stepper for states of this size; its work arrays are made once, a step allocates nothing. */
export function createStepper(size: number): (f: Derivative, t: number, h: number, x: Float64Array) => void {
	const k = RK4.b.map(() => new Float64Array(size));
	const stage = new Float64Array(size);
	return (f, t, h, x) => {
		for (let i = 0; i < k.length; i++) {
			const row: readonly number[] = RK4.a[i]!;
			for (let n = 0; n < size; n++) {
				let sum = 0;
				for (let j = 0; j < row.length; j++) sum += row[j]! * k[j]![n]!;
				stage[n] = x[n]! + h * sum;
			}
			f(t + RK4.c[i]! * h, stage, k[i]!);
		}
		for (let n = 0; n < size; n++) {
			let sum = 0;
			for (let i = 0; i < k.length; i++) sum += RK4.b[i]! * k[i]![n]!;
			x[n]! += h * sum;
		}
	};
}
