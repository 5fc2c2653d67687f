import { expect, test } from "vitest";
import { ANSWER, combineParts, LOOP_WEIGHTS, loopWeights } from "../../src/control/axis-response.ts";
import { AXES } from "../../src/control/spec.ts";
import { createRandom } from "../../src/math/random.ts";
import { sampleGains } from "../fixtures/craft.ts";

test.each(["cascade", "anglePid", "rateOnly"] as const)(
	"%s: sums over products of parts are what the parts give one by one",
	(structure) => {
		const { uniform } = createRandom(5);
		const base = sampleGains().roll;
		for (const axis of AXES)
			for (let trial = 0; trial < 20; trial++) {
				const some = (): number => 2 * uniform();
				const gains = {
					...base,
					kp: some(),
					ki: some(),
					kd: some(),
					kff: some(),
					kAngle: some(),
					kAngleI: some(),
					setPointWeight: uniform(),
				};
				const parts = Float64Array.from({ length: 6 }, () => some() - 1);
				const law = new Float64Array(ANSWER.length);
				combineParts(gains, structure, axis, parts, law);
				const w = loopWeights(gains, structure, axis, new Float64Array(LOOP_WEIGHTS));
				const [fr, fi, ir, ii, dr, di] = [...parts] as [number, number, number, number, number, number];
				const expected = [
					w[0]! * fr + w[1]! * (fr * ir - fi * ii) + w[2]! * dr,
					w[0]! * fi + w[1]! * (fr * ii + fi * ir) + w[2]! * di,
					w[3]! + w[4]! * ir + w[5]! * (ir * ir - ii * ii),
					w[4]! * ii + w[5]! * 2 * ir * ii,
				];
				expected.forEach((value, k) => {
					expect(-law[k]!).toBeCloseTo(value, 12);
				});
			}
	},
);
