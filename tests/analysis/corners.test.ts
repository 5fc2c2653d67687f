import { describe, expect, it } from "vitest";
import { cornerName, corners } from "../../src/analysis/corners.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { sampleCraft } from "../fixtures/craft.ts";

describe("corners", () => {
	it("every combination once: 2 throttles, 2 batteries, 2 loads, 3 uncertainties either way", () => {
		const list = corners(sampleCraft());
		expect(list.length).toBe(64);
		expect(new Set(list.map((c) => c.name)).size).toBe(64);
		expect(list[0]!.name).toBe("hover, full battery, no load, inertia -15 %, thrust -10 %, motor lag -20 %");
	});

	it("what has no spread makes no corners", () => {
		const craft = sampleCraft();
		const sure = {
			...craft,
			load: { ...craft.load, massKg: 0 },
			uncertainty: { inertia: 0, thrust: 0, motorLag: 0.2 },
		};
		expect(corners(sure).length).toBe(8);
		expect(corners({ ...sure, battery: { ...craft.battery, nearlyEmpty: 1 } }).length).toBe(4);
	});

	it("keeps wind and the choice of lag", () => {
		const windy = { ...NOMINAL_POINT, windMPerSec: [3, 0, 0] as const, motorLag: "up" as const };
		for (const { point } of corners(sampleCraft(), windy))
			expect(point).toMatchObject({ windMPerSec: [3, 0, 0], motorLag: "up" });
	});

	it("names odd points in plain words", () => {
		expect(
			cornerName({
				...NOMINAL_POINT,
				battery: { stateOfCharge: 0.3 },
				load: { massKg: 0.2 },
				throttle: 0.5,
				motorLag: "up",
			}),
		).toBe("throttle 50 %, battery at 30 %, load 200 g, speeding-up lag");
	});
});
