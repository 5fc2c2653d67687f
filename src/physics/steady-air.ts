import type { OperatingPoint } from "../craft/model.ts";
import { AIR_SIZE } from "./kernel-layout.ts";

/** The kernel's air array of an operating point's own wind, everywhere. */
export function steadyAir(point: OperatingPoint): Float64Array {
	const air = new Float64Array(AIR_SIZE);
	for (let i = 0; i < 9; i++) air[i] = point.windMPerSec[i % 3]!;
	return air;
}
