import { expect, it } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { scheduleHere } from "../../src/report/schedule-words.ts";
import { SCHEDULED_DEMO } from "../fixtures/scheduled-demo.ts";

it("says what the gains are times, here", () => {
	const { craft, gainSets } = SCHEDULED_DEMO;
	const point = { ...NOMINAL_POINT, limbRad: [1, 0], load: { massKg: 0.3 } };
	expect(scheduleHere(craft, gainSets[0]!, point, "roll")).toMatch(
		/^These gains follow 'boom' and the load: at this operating point times k_angle 1\.00, kp 2\.25, ki 1\.00/,
	);
	expect(scheduleHere(craft, gainSets[1]!, point, "roll")).toBe("");
});
