import type { Plant } from "../physics/plant.ts";
import { feetHeight } from "./endings.ts";

/** Keeps the worst of what the model does not cover; `sentences` says it with numbers. */
export interface Validity {
	watch(x: Float64Array, air: Float64Array, plant: Plant): void;
	sentences(): string[];
}

/**
 * Descent along the body's axis through the air beyond half the hover induced velocity (momentum theory; the vortex
 * ring begins about there, common practice, no source), and rotors nearer to ground than half their radius, where Cheeseman and Bennett's
 * formula is held.
 */
export function createValidity(): Validity {
	// Steepest sink, its limit, lowest hub, its radius: in an array, since numbers in closures are boxed at every change.
	const worst = Float64Array.of(0, 0, Number.POSITIVE_INFINITY, 0);
	return {
		watch(x, air, plant) {
			const w = x[6]!;
			const i = x[7]!;
			const j = x[8]!;
			const k = x[9]!;
			const sink =
				2 * (i * k + w * j) * (x[3]! - air[0]!) +
				2 * (j * k - w * i) * (x[4]! - air[1]!) +
				(1 - 2 * (i * i + j * j)) * (x[5]! - air[2]!);
			const r = plant.rotors[0]!.radiusM;
			const discs = 2 * plant.airDensityKgM3 * Math.PI * r * r * plant.rotors.length;
			const half = 0.5 * Math.sqrt((plant.massKg * plant.gravityMPerSec2) / discs);
			if (sink > half && sink - half > worst[0]! - worst[1]!) {
				worst[0] = sink;
				worst[1] = half;
			}
			if (plant.groundEffect) {
				const height = feetHeight(plant, x) + plant.feetBelowM - plant.rotors[0]!.positionM[2];
				if (height < worst[2]!) worst[2] = height;
				worst[3] = r;
			}
		},
		sentences() {
			const out: string[] = [];
			if (worst[0]! > worst[1]!)
				out.push(
					`sank at ${worst[0]!.toFixed(1)} m/s through the air, beyond half the hover induced velocity (${worst[1]!.toFixed(1)} m/s): the rotors' own wake is not in the model`,
				);
			if (worst[2]! < worst[3]! / 2)
				out.push(
					`rotors came to ${worst[2]!.toFixed(3)} m above ground, below half their radius: ground effect is held there`,
				);
			return out;
		},
	};
}
