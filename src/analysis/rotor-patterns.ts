import type { Mixer } from "../control/mixer.ts";
import type { Craft } from "../craft/model.ts";
import { curveSlope } from "../craft/speed-curve.ts";
import * as mat3 from "../math/mat3.ts";
import type { Plant } from "../physics/plant.ts";
import type { Trim } from "../physics/trim.ts";
import { transportUs } from "./timing-chain.ts";

/** n patterns of rotor speed, rad/s: per unit of u roll, pitch, yaw, then an orthonormal rest. */
export function rotorPatterns(plant: Plant, mixer: Mixer, trim: Trim): number[][] {
	const n = plant.rotors.length;
	const perUnit = plant.rotors.map((rotor, i) => {
		const c = trim.commands[i]!;
		const ratio = trim.voltageV / plant.curve.referenceVoltageV;
		return ratio * curveSlope(plant.curve, c) * rotor.speedFactor * mixer.slope(c, trim.voltageV);
	});
	const patterns = [0, 1, 2].map((axis) => perUnit.map((s, i) => s * mixer.table[3 * i + axis]!));
	const basis: number[][] = [];
	const orthogonal = (v: readonly number[]): number[] => {
		let rest = [...v];
		for (let pass = 0; pass < 2; pass++)
			for (const b of basis) {
				const along = dot(b, rest);
				rest = rest.map((r, i) => r - along * b[i]!);
			}
		return rest;
	};
	const keep = (v: readonly number[]): boolean => {
		const rest = orthogonal(v);
		const size = Math.sqrt(dot(rest, rest));
		if (size < 1e-6 * Math.sqrt(dot(v, v)) || size === 0) return false;
		basis.push(rest.map((r) => r / size));
		return true;
	};
	for (const p of patterns)
		if (!keep(p))
			throw new RangeError(
				`linearise: mixer columns ${JSON.stringify(patterns)} at these rotor speeds, expected roll, pitch and yaw independent`,
			);
	const candidates = [
		plant.rotors.map(() => 1),
		...plant.rotors.map((_, k) => plant.rotors.map((_, i) => (i === k ? 1 : 0))),
	];
	for (const candidate of candidates)
		if (patterns.length < n && keep(candidate)) patterns.push(basis.at(-1)!);
	return patterns;
}

const dot = (a: readonly number[], b: readonly number[]): number =>
	a.reduce((sum, v, i) => sum + v * b[i]!, 0);

/** Command transport of an axis: motors weighed by their share in turning it. */
export function transports(
	craft: Craft,
	plant: Plant,
	trim: Trim,
	patterns: readonly number[][],
): [number, number, number] {
	const inverse = mat3.invert(plant.inertiaKgM2);
	const of = (axis: 0 | 1 | 2): number => {
		const turns: number[] = [];
		plant.rotors.forEach((rotor, i) => {
			const dw = patterns[axis]![i]!;
			const w = trim.speedsRadPerSec[i]!;
			const [nx, ny, nz] = rotor.axis;
			const [x, y, z] = [0, 1, 2].map((k) => rotor.positionM[k]! - plant.centreOfMassM[k]!) as [
				number,
				number,
				number,
			];
			const f = 2 * rotor.thrustCoefficient * w * dw;
			const q = 2 * rotor.spin * rotor.torqueCoefficient * w * dw;
			const turn = mat3.times(inverse, [
				(y * nz - z * ny) * f + q * nx,
				(z * nx - x * nz) * f + q * ny,
				(x * ny - y * nx) * f + q * nz,
			])[axis];
			turns.push(turn);
		});
		// Far from balance a motor may turn an axis the wrong way: it then has no say in how late that axis is turned.
		const sign = Math.sign(turns.reduce((sum, turn) => sum + turn, 0));
		let whole = 0;
		let delayed = 0;
		turns.forEach((turn, i) => {
			if (turn * sign < 0) return;
			whole += turn;
			delayed += turn * transportUs(craft.timing.pulse, trim.commands[i]!);
		});
		return (1e-6 * delayed) / whole;
	};
	return [of(0), of(1), of(2)];
}
