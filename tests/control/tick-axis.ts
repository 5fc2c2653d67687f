import { type AxisLaw, stepAxis } from "../../src/control/axis-law.ts";
import { IN, OUT } from "../../src/control/signals.ts";

const input = new Float64Array(IN.length);
const output = new Float64Array(OUT.commands);

/** The input array of a roll axis with these readings. */
export function rollInput(
	angleSetPoint: number,
	angle: number,
	rateSetPoint: number,
	rate: number,
	spacingSec: number,
	lifted: boolean,
): Float64Array {
	input[IN.angleSetPoint] = angleSetPoint;
	input[IN.angle] = angle;
	input[IN.rateSetPoint] = rateSetPoint;
	input[IN.rate] = rate;
	input[IN.rateSpacing] = spacingSec;
	input[IN.lifted] = lifted ? 1 : 0;
	return input;
}

/** One tick of an axis law whose state begins at 0; gives u. */
export function tickAxis(law: AxisLaw, state: Float64Array, ...v: Parameters<typeof rollInput>): number {
	stepAxis(law, state, 0, rollInput(...v), output, 0);
	return output[OUT.u]!;
}
