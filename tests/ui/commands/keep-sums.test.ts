import { expect, it } from "vitest";
import type { MassProperties } from "../../../src/craft/model.ts";
import { keepSums } from "../../../src/ui/commands/keep-sums.ts";
import { craftOf, done, readState } from "./on-demo.ts";

/** To the six digits that are written. */
function expectSame(kept: MassProperties, body: MassProperties): void {
	expect(kept.massKg).toBeCloseTo(body.massKg, 5);
	const largest = Math.max(...body.inertiaKgM2.map(Math.abs));
	for (const i of [0, 4, 8, 1, 2, 5])
		expect(Math.abs(kept.inertiaKgM2[i]! - body.inertiaKgM2[i]!)).toBeLessThan(1e-5 * largest);
	for (const i of [0, 1, 2]) expect(kept.centreOfMassM[i]).toBeCloseTo(body.centreOfMassM[i]!, 6);
}

it("keeps what the parts came to, of the craft and of every link of its limb", () => {
	const { craft } = readState(done());
	const state = done(keepSums(craft));
	expect(craftOf(state)).not.toHaveProperty("parts");
	const kept = readState(state).craft;
	expectSame(kept.bare, craft.bare);
	expect(kept.limb!.links).toHaveLength(2);
	kept.limb!.links.forEach((link, i) => {
		expectSame(link.mass, craft.limb!.links[i]!.mass);
	});
});
