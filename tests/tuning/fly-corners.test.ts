import { expect, test } from "vitest";
import { corners } from "../../src/analysis/corners.ts";
import { flyCorners } from "../../src/tuning/fly-corners.ts";
import { tune } from "../../src/tuning/tune.ts";
import { sampleCraft } from "../fixtures/craft.ts";

test("tuned gains fly in their corners as the linear model foretold", () => {
	const base = sampleCraft();
	// One motor lag both ways, as the linear model has.
	const craft = sampleCraft({ propulsion: { ...base.propulsion, tauUpSec: 0.065, tauDownSec: 0.065 } });
	const some = corners(craft).filter((_, i) => i % 17 === 0);
	const { gainSet } = tune(craft, { character: "even", corners: some, alternatives: false });
	const flown = flyCorners(craft, gainSet!, some);
	expect(flown.length).toBe(3 * some.length);
	expect(flown.filter((f) => f.comparable).length).toBeGreaterThan(2);
	for (const {
		corner,
		axis,
		status,
		overshootPct,
		predictedOvershootPct,
		iae,
		predictedIae,
		comparable,
	} of flown) {
		expect(status, `${corner}, ${axis}`).toBe("completed");
		if (!comparable) continue;
		expect(Math.abs(overshootPct! - predictedOvershootPct), `${corner}, ${axis}`).toBeLessThan(3);
		expect(iae! / predictedIae, `${corner}, ${axis}`).toBeGreaterThan(0.93);
		expect(iae! / predictedIae, `${corner}, ${axis}`).toBeLessThan(1.07);
	}
});
