import { afterAll, describe, expect, inject, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

describe("the first screen", () => {
	it("shows the demo flown, says that no one built it, asks no other host and breaks no rule of the policy", async () => {
		const { page, context, troubles, hosts } = await openPage();
		const picture = page.locator(".picture").first();
		// It is empty until its place has been measured.
		await expect.poll(() => picture.textContent()).toContain("Invented craft");
		await page.getByText("Fit to hover").waitFor();
		expect([...hosts]).toEqual([new URL(inject("pageUrl")).host]);
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("draws live curves in a browser whose language is not a valid tag", async () => {
		const { page, context, troubles } = await openPage({
			beforeLoad: () => Object.defineProperty(Navigator.prototype, "language", { get: () => "en-US@posix" }),
		});
		await page.locator(".plot canvas").first().waitFor();
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("becomes the builder's own craft by seven numbers, and undo brings the demo back", async () => {
		const { page, context, troubles } = await openPage();
		for (const [label, text] of [
			["Mass, ready to fly", "1.3 kg"],
			["Hub to hub", "400"],
			["Propeller, tip to tip", "9 in"],
			["Most thrust of one motor", "800 g"],
			["Motor lag", "45 ms"],
			["Loop rate", "400 Hz"],
			["Battery cells", "4"],
		] as const)
			await page.getByRole("form", { name: "Your own craft" }).getByLabel(label).fill(text);
		await page.getByRole("button", { name: "This is my craft" }).click();
		await page.getByRole("button", { name: "Undo my craft from seven numbers" }).waitFor();
		expect(await page.getByText("Your own craft, in seven numbers").count()).toBe(0);
		await page.getByText("Starting gains of an even character stand in the rack as set A").waitFor();
		const picture = page.locator(".picture").first();
		await expect.poll(() => picture.textContent()).toMatch(/\S/);
		expect(await picture.textContent()).not.toContain("Invented craft");
		await page.getByRole("button", { name: "Undo my craft from seven numbers" }).click();
		await page.getByText("Your own craft, in seven numbers").waitFor();
		expect(troubles).toEqual([]);
		await context.close();
	});
});
