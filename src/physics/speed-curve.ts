import type { SpeedCurve } from "../craft/model.ts";

/**
 * Steady rotor speed at the curve's reference voltage, rad/s, for a command 0..1. Shape-preserving cubic through the
 * points (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5, 1984, from memory); two points are a straight line. Below
 * the first command 0 (the motor does not start); above the last the end slope goes on, so that a full-throttle point
 * has a slope (commands in flight never exceed 1).
 */
export function curveSpeed(curve: SpeedCurve, command: number): number {
	const { commands: c, speedsRadPerSec: w } = curve;
	const last = c.length - 1;
	if (!(command >= c[0]!)) return 0;
	if (command >= c[last]!) return w[last]! + pointSlope(c, w, last) * (command - c[last]!);
	const i = intervalOf(c, command);
	const h = c[i + 1]! - c[i]!;
	const t = (command - c[i]!) / h;
	const m0 = pointSlope(c, w, i) * h;
	const m1 = pointSlope(c, w, i + 1) * h;
	const rise = w[i + 1]! - w[i]!;
	return w[i]! + t * (m0 + t * (3 * rise - 2 * m0 - m1 + t * (m0 + m1 - 2 * rise)));
}

/** `curveSpeed` of from[fromAt] to out[outAt], for loops where a returned number would be boxed. */
export function writeCurveSpeed(
	curve: SpeedCurve,
	from: Float64Array,
	fromAt: number,
	out: Float64Array,
	outAt: number,
): void {
	const { commands: c, speedsRadPerSec: w } = curve;
	const command = from[fromAt]!;
	if (c.length === 2)
		out[outAt] = command >= c[0]! ? w[0]! + ((w[1]! - w[0]!) * (command - c[0]!)) / (c[1]! - c[0]!) : 0;
	else out[outAt] = curveSpeed(curve, command);
}

/** d speed / d command; at the last point and beyond, the slope from below; 0 in the dead zone. */
export function curveSlope(curve: SpeedCurve, command: number): number {
	const { commands: c, speedsRadPerSec: w } = curve;
	const last = c.length - 1;
	if (!(command >= c[0]!)) return 0;
	if (command >= c[last]!) return pointSlope(c, w, last);
	const i = intervalOf(c, command);
	const h = c[i + 1]! - c[i]!;
	const t = (command - c[i]!) / h;
	const m0 = pointSlope(c, w, i) * h;
	const m1 = pointSlope(c, w, i + 1) * h;
	const rise = w[i + 1]! - w[i]!;
	return (m0 + t * (2 * (3 * rise - 2 * m0 - m1) + 3 * t * (m0 + m1 - 2 * rise))) / h;
}

function intervalOf(c: readonly number[], command: number): number {
	let i = 0;
	while (i < c.length - 2 && command >= c[i + 1]!) i++;
	return i;
}

function pointSlope(c: readonly number[], w: readonly number[], i: number): number {
	const last = c.length - 1;
	if (last === 1) return secant(c, w, 0);
	if (i === 0) return endSlope(c[1]! - c[0]!, c[2]! - c[1]!, secant(c, w, 0), secant(c, w, 1));
	if (i === last) {
		const h = c[last]! - c[last - 1]!;
		return endSlope(h, c[last - 1]! - c[last - 2]!, secant(c, w, last - 1), secant(c, w, last - 2));
	}
	const a = secant(c, w, i - 1);
	const b = secant(c, w, i);
	if (a * b <= 0) return 0;
	const ha = c[i]! - c[i - 1]!;
	const hb = c[i + 1]! - c[i]!;
	return (3 * (ha + hb)) / ((2 * hb + ha) / a + (hb + 2 * ha) / b);
}

function secant(c: readonly number[], w: readonly number[], j: number): number {
	return (w[j + 1]! - w[j]!) / (c[j + 1]! - c[j]!);
}

/** Three-point end slope, limited so that the curve keeps the data's direction. */
function endSlope(h0: number, h1: number, d0: number, d1: number): number {
	const slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
	if (slope * d0 <= 0) return 0;
	return d0 * d1 <= 0 && Math.abs(slope) > 3 * Math.abs(d0) ? 3 * d0 : slope;
}
