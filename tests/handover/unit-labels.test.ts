import { describe, expect, it } from "vitest";
import { defaultFirmwareUnits } from "../../src/handover/firmware-units.ts";
import { describeConversion, unitLabels } from "../../src/handover/unit-labels.ts";
import { sampleGains } from "../fixtures/craft.ts";

const units = defaultFirmwareUnits(500);
const roll = { ...sampleGains().roll, kp: 0.136 };

describe("conversion in one line", () => {
	it("us per deg/s", () =>
		expect(describeConversion(sampleGains({ roll }), units)).toBe(
			"kp 0.136 per rad/s x 1000 us x pi/180 = 2.37 us per deg/s",
		));
	it("other units", () => {
		const percent = { ...units, angle: "rad" as const, output: "percent" as const, outputFullScale: 100 };
		expect(describeConversion(sampleGains({ roll, structure: "anglePid" }), percent)).toBe(
			"kp 0.136 per rad x 100 % = 13.6 % per rad",
		);
		const counts = {
			...units,
			output: "counts" as const,
			outputFullScale: 2500,
			mixLargestEntry: [0.5, 1, 1] as const,
		};
		expect(describeConversion(sampleGains({ roll }), counts)).toBe(
			"kp 0.136 per rad/s x 2500 counts / 0.5 x pi/180 = 11.9 counts per deg/s",
		);
		const plain = { ...units, angle: "rad" as const, output: "fraction" as const, outputFullScale: 1 };
		expect(describeConversion(sampleGains({ roll }), plain)).toBe("kp 0.136 per rad/s = 0.136 per rad/s");
	});
});

describe("labels", () => {
	it("name each number's unit", () => {
		expect(unitLabels(units, "cascade", "roll")).toMatchObject({
			kp: "us per deg/s",
			ki: "us per deg",
			kd: "us per deg/s^2",
			kAngle: "1/s",
		});
		expect(unitLabels(units, "anglePid", "pitch")).toMatchObject({
			kp: "us per deg",
			ki: "us per deg s",
			kd: "us per deg/s",
		});
		expect(
			unitLabels({ ...units, integral: "perTick", derivative: "perTick" }, "cascade", "roll"),
		).toMatchObject({
			ki: "us per deg/s, per tick",
			kd: "us per deg/s, per tick",
		});
		expect(unitLabels({ ...units, form: "standard", integral: "perTick" }, "cascade", "roll")).toMatchObject({
			ki: "ticks",
			kd: "s",
		});
	});
});
