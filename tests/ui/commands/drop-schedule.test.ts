import { expect, it } from "vitest";
import { dropSchedule } from "../../../src/ui/commands/drop-schedule.ts";
import { putSet, setsOf } from "../../../src/ui/commands/rack.ts";
import { renameLink } from "../../../src/ui/commands/rename-link.ts";
import { done, readState } from "./on-demo.ts";

const schedule = { hinge: "boom", angles: [0, 1], loads: [0], roll: { kp: [[1], [2]] } };
const [first] = setsOf(done());
const put = putSet({ ...first, name: "A", schedule });

it("takes the schedule out of a set and leaves its gains", () => {
	const before = readState(done(put)).gainSets[0]!;
	const after = readState(done(put, dropSchedule("A"))).gainSets[0]!;
	expect(before.schedule!.factors.roll.kp).toEqual([[1], [2]]);
	expect(after.schedule).toBeUndefined();
	expect(after.roll).toEqual(before.roll);
	expect(() => done(dropSchedule("Z"))).toThrow("no gain set 'Z' in the rack");
});
it("follows a link that is named anew", () => {
	const state = done(put, renameLink(0, "upper boom"));
	expect(readState(state).gainSets[0]!.schedule!.hinge).toBe("upper boom");
});
