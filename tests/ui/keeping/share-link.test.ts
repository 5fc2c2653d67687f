import { describe, expect, it } from "vitest";
import { fromFragment, toFragment } from "../../../src/ui/keeping/share-link.ts";
import { DEMO_STATE } from "../sample.ts";

describe("a link", () => {
	it("carries a scenario, whole, in letters that any link may hold", async () => {
		const fragment = await toFragment({ ...DEMO_STATE.document, note: "ümläut \u{1f6e0} \u2212" });
		expect(fragment).toMatch(/^#s=[A-Za-z0-9_-]+$/);
		expect(fragment.length).toBeLessThan(0.5 * JSON.stringify(DEMO_STATE.document).length);
		expect(await fromFragment(fragment)).toEqual({ ...DEMO_STATE.document, note: "ümläut \u{1f6e0} \u2212" });
	});
	it("carries none where there is none", async () => {
		expect(await fromFragment("")).toBeNull();
		expect(await fromFragment("#top")).toBeNull();
	});
	it("says so when it was cut short or changed", async () => {
		const fragment = await toFragment(DEMO_STATE.document);
		for (const broken of [fragment.slice(0, 60), "#s=", "#s=!!", `#s=${btoa("not packed")}`])
			await expect(fromFragment(broken)).rejects.toThrow("cannot be read");
	});
	it("refuses to unpack without end", async () => {
		const bomb = await toFragment({ note: "x".repeat(5_000_000) });
		await expect(fromFragment(bomb)).rejects.toThrow(RangeError);
	});
});
