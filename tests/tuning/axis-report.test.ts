import { expect, it } from "vitest";
import { missOf } from "../../src/tuning/axis-report.ts";
import type { LimitState } from "../../src/tuning/violation.ts";

const ms = (value: number): LimitState => ({
	constraint: "rateLoopMs",
	value,
	limit: 1.4,
	unit: "",
	missed: Math.log(value / 1.4),
});

it("says a miss with the digits that show it, and a limit that is kept as kept", () => {
	expect(missOf(ms(1.62))).toBe("rate loop Ms 1.62, limit 1.4");
	expect(missOf(ms(1.4012))).toBe("rate loop Ms 1.401, limit 1.4");
	expect(missOf(ms(1.400013))).toBe("rate loop Ms 1.40001, limit 1.4");
	expect(missOf(ms(1.4))).toBe("rate loop Ms 1.4, limit 1.4, just kept");
	expect(missOf(ms(1.399))).toBe("rate loop Ms 1.4, limit 1.4, just kept");
	expect(missOf({ ...ms(0), constraint: "stable", missed: 100 })).toBe("the loop is unstable");
});
