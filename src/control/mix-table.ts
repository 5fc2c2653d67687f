import type { Vec3 } from "../math/types.ts";

export interface MixerGeometry {
	readonly rotors: readonly MixerRotor[];
	/** Of the bare craft. */
	readonly centreOfMassM: Vec3;
	/** At which the command curve holds; battery compensation is 1 there. */
	readonly referenceVoltageV: number;
}

interface MixerRotor {
	readonly positionM: Vec3;
	/** Unit vector along which thrust pushes. */
	readonly axis: Vec3;
	readonly spin: 1 | -1;
	/** dT/dc at hover, N per unit of command. */
	readonly thrustSlope: number;
	/** dQ/dc at hover, N m per unit of command. */
	readonly torqueSlope: number;
}

/**
 * Rows per rotor (roll, pitch, yaw): the pseudo-inverse of the map from commands to thrust and the three torques about
 * the bare craft's centre of mass, each torque column scaled to a largest entry of 1. No column changes total thrust.
 *
 *     torque_i = (r_i - c) x n_i dT_i/dc + s_i n_i dQ_i/dc          M = B^T (B B^T)^-1
 *
 * @returns rotors x 3, row by row
 * @throws RangeError when the rotors cannot make thrust and all three torques independently
 */
export function mixTable(geometry: MixerGeometry): Float64Array {
	const n = geometry.rotors.length;
	const rows = effectRows(geometry);
	// Each row to unit length first: newtons and newton metres do not compare.
	for (const row of rows) {
		const size = Math.hypot(...row);
		if (!(size > 0)) throw unreachable(n);
		for (let i = 0; i < n; i++) row[i]! /= size;
	}
	const gram = rows.map((a) => rows.map((b) => a.reduce((sum, x, i) => sum + x * b[i]!, 0)));
	const inverse = invert(gram, n);
	const table = new Float64Array(3 * n);
	for (let axis = 0; axis < 3; axis++) {
		const column = Array.from({ length: n }, (_, i) =>
			rows.reduce((sum, row, k) => sum + row[i]! * inverse[k]![axis + 1]!, 0),
		);
		const largest = Math.max(...column.map(Math.abs));
		for (let i = 0; i < n; i++) table[3 * i + axis] = column[i]! / largest;
	}
	return table;
}

/** Rows: lift along -z, roll, pitch, yaw torque per unit of each rotor's command. */
function effectRows({ rotors, centreOfMassM: c }: MixerGeometry): number[][] {
	const columns = rotors.map(({ positionM: r, axis: [nx, ny, nz], spin, thrustSlope: f, torqueSlope }) => {
		const [x, y, z] = [r[0] - c[0], r[1] - c[1], r[2] - c[2]];
		const q = spin * torqueSlope;
		return [
			-nz * f,
			(y * nz - z * ny) * f + q * nx,
			(z * nx - x * nz) * f + q * ny,
			(x * ny - y * nx) * f + q * nz,
		];
	});
	return [0, 1, 2, 3].map((k) => columns.map((column) => column[k]!));
}

/** Gauss-Jordan with pivoting; the rows were scaled, so that a pivot compares with 1. */
function invert(matrix: readonly (readonly number[])[], rotors: number): number[][] {
	const size = matrix.length;
	const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
	for (let k = 0; k < size; k++) {
		let best = k;
		for (let i = k + 1; i < size; i++) if (Math.abs(work[i]![k]!) > Math.abs(work[best]![k]!)) best = i;
		[work[k], work[best]] = [work[best]!, work[k]!];
		const pivot = work[k]![k]!;
		if (!(Math.abs(pivot) > 1e-9)) throw unreachable(rotors);
		for (let j = 0; j < 2 * size; j++) work[k]![j]! /= pivot;
		for (let i = 0; i < size; i++) {
			if (i === k) continue;
			const factor = work[i]![k]!;
			for (let j = 0; j < 2 * size; j++) work[i]![j]! -= factor * work[k]![j]!;
		}
	}
	return work.map((row) => row.slice(size));
}

function unreachable(rotors: number): RangeError {
	return new RangeError(
		`mixer: ${rotors} rotors placed and spinning so that thrust, roll, pitch and yaw are not independent, expected all four`,
	);
}
