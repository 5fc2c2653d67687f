import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { firstFall } from "../../src/analysis/first-fall.ts";
import { WRONG_KINDS } from "../../src/analysis/wrong-kinds.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import type { Wiring } from "../../src/flight/wiring.ts";
import * as mat3 from "../../src/math/mat3.ts";
import type { Mat3 } from "../../src/math/types.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";
import { mirrored } from "../fixtures/mirrored.ts";

const MIRROR: Mat3 = [1, 0, 0, 0, -1, 0, 0, 0, 1];

/** The same mistake in the mirror. Turn rates are axial vectors: both reflections of a matrix on them cancel their extra sign. */
function mirroredWiring(wiring: Wiring): Wiring {
	const seen = (m: Mat3): Mat3 => mat3.multiply(mat3.multiply(MIRROR, m), MIRROR);
	return {
		...wiring,
		...(wiring.gyro && { gyro: seen(wiring.gyro) }),
		...(wiring.board && { board: seen(wiring.board) }),
	};
}

const wiringOf = (name: string): Wiring =>
	WRONG_KINDS.find((each) => each.kind === name)!.wiring(sampleGains(), sampleCraft(), [0, 1]);

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("a mirrored wrong build", () => {
	it.each(WRONG_KINDS.map((kind) => [kind.kind, kind] as const))(
		"%s falls the mirrored fall",
		(_name, kind) => {
			fc.assert(
				fc.property(
					fc.tuple(num(-0.02, 0.02), num(-0.02, 0.02), num(-0.01, 0.01)),
					fc.tuple(num(-0.03, 0.03), num(-0.03, 0.03), num(-0.03, 0.03)),
					fc.nat(),
					(centre, torque, pick) => {
						const base = sampleCraft();
						const craft = sampleCraft({ bare: { ...base.bare, centreOfMassM: centre } });
						const gainSet = sampleGains();
						const drill = (side: 1 | -1): Drill => ({
							name: "",
							about: "",
							durationSec: 0.4,
							heightM: 20,
							seed: 1,
							events: [
								{
									atSec: 0.01,
									kind: "torque",
									torqueNm: [side * torque[0], torque[1], side * torque[2]],
									durationSec: 0.1,
								},
								{ atSec: 0.05, kind: "angle", axis: "roll", angleRad: side * 0.1 },
							],
							wind: STILL_AIR,
						});
						const ways = kind.waysOn(craft);
						const rotors = ways[pick % ways.length]!;
						const options = { noise: false, rounding: false, recordPeriodUs: 2000 };
						const flying = { point: NOMINAL_POINT, gainSet, options };
						const a = fly({ ...flying, craft, drill: drill(1), wiring: kind.wiring(gainSet, craft, rotors) });
						const other = mirrored(craft);
						const b = fly({
							...flying,
							craft: other,
							drill: drill(-1),
							wiring: mirroredWiring(kind.wiring(gainSet, other, rotors)),
						});
						expect(b.status).toBe(a.status);
						for (const [column, sign] of [
							["roll", -1],
							["pitch", 1],
							["yawRate", -1],
							["down", 1],
						] as const) {
							const [p, q] = [a.trace.columns[column]!, b.trace.columns[column]!];
							expect(Math.max(...p.map((v, i) => Math.abs(v - sign * q[i]!)))).toBeLessThan(1e-6);
						}
						const [fall, twinFall] = [firstFall(a.trace, 0, ""), firstFall(b.trace, 0, "")];
						expect(twinFall.fallSec).toBe(fall.fallSec);
						expect(twinFall.tilt300Deg).toBeCloseTo(fall.tilt300Deg, 4);
					},
				),
				{ numRuns: 4, seed: 11 },
			);
		},
	);

	it("of a board turned clockwise is one turned counter-clockwise", () => {
		expect(mirroredWiring(wiringOf("board-turned-right"))).toEqual(wiringOf("board-turned-left"));
	});
});
