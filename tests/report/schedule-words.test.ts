import { expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { scheduleHere } from "../../src/report/schedule-words.ts";
import { putSet, setsOf } from "../../src/ui/commands/rack.ts";
import { done, readState } from "../ui/commands/on-demo.ts";

const [first] = setsOf(done());

it("says what the gains are times, here", () => {
	const schedule = {
		hinge: "boom",
		angles: [0, 2],
		loads: [0, 0.3],
		roll: {
			kp: [
				[1, 1.5],
				[2, 3],
			],
		},
	};
	const { craft, gainSets } = readState(done(putSet({ ...first, name: "A", schedule })));
	const point = { ...NOMINAL_POINT, limbRad: [1, 0], load: { massKg: 0.3 } };
	expect(scheduleHere(craft, gainSets[0]!, point, "roll")).toMatch(
		/^These gains follow 'boom' and the load: at this operating point times k_angle 1\.00, kp 2\.25, ki 1\.00/,
	);
	expect(scheduleHere(craft, gainSets[1]!, point, "roll")).toBe("");
});
