import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";
import { mirrored } from "../fixtures/mirrored.ts";

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("a mirrored craft", () => {
	it("flies the mirrored flight", () => {
		fc.assert(
			fc.property(
				fc.tuple(num(-0.02, 0.02), num(-0.02, 0.02), num(-0.02, 0.02)),
				fc.tuple(num(-1e-3, 1e-3), num(-1e-3, 1e-3), num(-1e-3, 1e-3)),
				num(-0.2, 0.2),
				num(-0.2, 0.2),
				fc.tuple(num(-3, 3), num(-3, 3), num(-1, 1)),
				(centre, [xy, xz, yz], roll, pitch, wind) => {
					const base = sampleCraft();
					const craft = sampleCraft({
						bare: {
							...base.bare,
							centreOfMassM: centre,
							inertiaKgM2: [0.022, xy, xz, xy, 0.025, yz, xz, yz, 0.04],
						},
					});
					const drill = (side: 1 | -1): Drill => ({
						name: "",
						about: "",
						durationSec: 0.8,
						heightM: 2,
						seed: 1,
						events: [
							{ atSec: 0.1, kind: "angle", axis: "roll", angleRad: side * roll },
							{ atSec: 0.2, kind: "angle", axis: "pitch", angleRad: pitch },
							{ atSec: 0.3, kind: "rate", axis: "yaw", rateRadPerSec: side * 0.5 },
						],
						wind: { ...STILL_AIR, meanMPerSec: [wind[0], side * wind[1], wind[2]] },
					});
					const options = { noise: false, rounding: false };
					const gainSet = sampleGains();
					const right = fly({ craft, point: NOMINAL_POINT, gainSet, drill: drill(1), options });
					const left = fly({
						craft: mirrored(craft),
						point: NOMINAL_POINT,
						gainSet,
						drill: drill(-1),
						options,
					});
					expect(right.status).toBe("completed");
					for (const [name, sign] of [
						["roll", -1],
						["pitch", 1],
						["yaw", -1],
						["rollRate", -1],
						["east", -1],
						["north", 1],
						["down", 1],
					] as const) {
						const a = right.trace.columns[name]!;
						const b = left.trace.columns[name]!;
						expect(Math.max(...a.map((v, i) => Math.abs(v - sign * b[i]!)))).toBeLessThan(1e-8);
					}
				},
			),
			{ numRuns: 12, seed: 5 },
		);
	});
});
