import { expect, test } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const setup = {
	craft: sampleCraft(),
	point: NOMINAL_POINT,
	gainSet: sampleGains(),
	drill: {
		name: "step",
		about: "",
		durationSec: 0.5,
		heightM: 50,
		seed: 3,
		events: [{ atSec: 0.1, kind: "angle", axis: "roll", angleRad: 0.1 }],
		wind: STILL_AIR,
	},
} as const;

test("a flight that keeps few columns is the same flight", () => {
	const whole = fly(setup);
	const columns = ["rotorSpeed1", "time", "roll"];
	const few = fly({ ...setup, options: { columns } });
	expect(Object.keys(few.trace.columns).sort()).toEqual([...columns].sort());
	expect(few.trace.length).toBe(whole.trace.length);
	for (const name of columns) expect(few.trace.columns[name]).toEqual(whole.trace.columns[name]);
	expect({ ...few, trace: null }).toEqual({ ...whole, trace: null });
});

test("a column that there is none of is an error that names it", () => {
	expect(() => fly({ ...setup, options: { columns: ["time", "lift"] } })).toThrow(
		/trace column 'lift', expected of time, rollSetPoint/,
	);
});
