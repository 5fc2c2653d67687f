import { expect, it } from "vitest";
import { toFirmware } from "../../src/handover/firmware-gains.ts";
import { schedulePoints, scheduleTable } from "../../src/report/schedule-points.ts";
import { SCHEDULED_DEMO } from "../fixtures/scheduled-demo.ts";

const { gainSets, firmware } = SCHEDULED_DEMO;
const set = gainSets[0]!;

it("tables the gains of every breakpoint in the builder's units: what is typed for the set times the factor", () => {
	const { gains, rows } = scheduleTable(schedulePoints(set, firmware), "roll");
	const kp = gains.findIndex(({ name }) => name === "kp");
	const { core } = toFirmware(set, firmware).roll;
	expect(gains[kp]!.unit).toBe("us per deg/s");
	expect(rows.map(({ angleDeg, loadGrams }) => [Math.round(angleDeg), loadGrams])).toEqual([
		[0, 0],
		[0, 300],
		[115, 0],
		[115, 300],
	]);
	[1, 1.5, 2, 3].forEach((factor, i) => {
		expect(rows[i]!.values[kp]).toBeCloseTo(factor * core.kp, 12);
	});
});
it("has nothing to table for a set without a schedule", () =>
	expect(schedulePoints(gainSets[1]!, firmware)).toEqual([]));
