import { expect, it } from "vitest";
import { keepSums } from "../../../src/ui/commands/keep-sums.ts";
import { craftOf, done, readState } from "./on-demo.ts";

it("keeps what the parts came to, to the six digits that it writes", () => {
	const { bare } = readState(done()).craft;
	const state = done(keepSums(bare));
	expect(craftOf(state)).not.toHaveProperty("parts");
	const kept = readState(state).craft.bare;
	expect(kept.massKg).toBeCloseTo(bare.massKg, 5);
	for (const i of [0, 4, 8, 1, 2, 5])
		expect(Math.abs(kept.inertiaKgM2[i]! - bare.inertiaKgM2[i]!)).toBeLessThan(1e-5 * bare.inertiaKgM2[0]);
	for (const i of [0, 1, 2]) expect(kept.centreOfMassM[i]).toBeCloseTo(bare.centreOfMassM[i]!, 7);
});
