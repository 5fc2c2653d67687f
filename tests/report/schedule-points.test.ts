import { expect, it } from "vitest";
import { toFirmware } from "../../src/handover/firmware-gains.ts";
import { schedulePoints, scheduleTable } from "../../src/report/schedule-points.ts";
import { putSet, setsOf } from "../../src/ui/commands/rack.ts";
import { done, readState } from "../ui/commands/on-demo.ts";

const [first] = setsOf(done());
const schedule = {
	hinge: "boom",
	angles: [0, 1],
	loads: [0, 0.3],
	roll: {
		kp: [
			[1, 1.5],
			[2, 3],
		],
	},
};
const { gainSets, firmware } = readState(done(putSet({ ...first, name: "A", schedule })));
const set = gainSets[0]!;

it("tables the gains of every breakpoint in the builder's units: what is typed for the set times the factor", () => {
	const { gains, rows } = scheduleTable(schedulePoints(set, firmware), "roll");
	const kp = gains.findIndex(({ name }) => name === "kp");
	const { core } = toFirmware(set, firmware).roll;
	expect(gains[kp]!.unit).toBe("us per deg/s");
	expect(rows.map(({ angleDeg, loadGrams }) => [Math.round(angleDeg), loadGrams])).toEqual([
		[0, 0],
		[0, 300],
		[57, 0],
		[57, 300],
	]);
	[1, 1.5, 2, 3].forEach((factor, i) => {
		expect(rows[i]!.values[kp]).toBeCloseTo(factor * core.kp, 12);
	});
});
it("has nothing to table for a set without a schedule", () =>
	expect(schedulePoints(gainSets[1]!, firmware)).toEqual([]));
