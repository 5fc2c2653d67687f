import { expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import type { ReachNumbers } from "../../src/report/reach-json.ts";
import { REACH_COLUMNS, reachRows } from "../../src/report/reach-table.ts";
import { limitsOf } from "../../src/tuning/characters.ts";
import { createReach, failed } from "../../src/tuning/reach.ts";
import { readState } from "../ui/commands/on-demo.ts";
import { DEMO_STATE } from "../ui/sample.ts";

const cell = {
	loadGrams: 300,
	commands: [0.7, 0.75, 0.6, 0.65],
	shift: [0.01, -0.0001, 0.102, 0],
	tiltDeg: 4.26,
	centreOfMassMm: [-28.4, 0, 5.2],
	productsKgM2: [0, -0.0046, 0],
	servoNm: [-0.84, 0],
	diskGainDb: 11.94,
	diskPhaseDeg: null,
};
const numbers = { poses: [{ poseDeg: [0, -0.2], loads: [cell] }] } as unknown as ReachNumbers;

it("has a cell per column, room of the busiest motor, no minus in front of nothing, '-' for none", () => {
	const [row] = reachRows(numbers);
	expect(row).toEqual([
		"0, 0",
		"300",
		"-28, 0, 5",
		"4.3",
		"25",
		"1, 0, 10, 0",
		"-0.84, 0.00",
		"46.0",
		"11.9",
		"-",
	]);
	expect(row).toHaveLength(REACH_COLUMNS.length + 1);
});

it("leans into the wind: the tilt that is tabled grows with it", () => {
	const { craft, gainSets } = readState(DEMO_STATE);
	const tilt = (wind: number): number => {
		const point = { ...NOMINAL_POINT, windMPerSec: [-wind, 0, 0] as const };
		const found = createReach(craft, gainSets[0]!, limitsOf("even"), point).statics([1.57, -1.57], 0.3);
		if (failed(found)) throw new Error(found.reason);
		return found.tiltRad;
	};
	expect(tilt(0)).toBeLessThan(1e-6);
	expect(tilt(4)).toBeGreaterThan(0.01);
	expect(tilt(8)).toBeGreaterThan(2 * tilt(4));
});
