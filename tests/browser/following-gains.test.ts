import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

describe("gains that follow pose and load", () => {
	it("are found on request, can be stopped, go into the rack and say what they are times", {
		timeout: 400_000,
	}, async () => {
		const { page, context, troubles } = await openPage();
		await page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: "Gains" }).click();
		const sheet = page.getByRole("region", { name: "Starting gains" });
		await sheet.getByRole("button", { name: "even" }).click();
		await sheet.getByLabel(/Over the whole reach/).check();
		const ask = sheet.getByRole("button", { name: "Find gains that follow pose and load" });
		await ask.click();
		await sheet.getByText(/gains: 1 of 6/).waitFor({ timeout: 120_000 });
		await sheet.getByRole("button", { name: "Stop" }).click();
		await ask.click();
		const roll = sheet.getByRole("table", { name: /^roll over pose and load/ });
		await roll.waitFor({ timeout: 300_000 });
		expect(await roll.getByRole("row").count()).toBe(7);
		await sheet
			.getByRole("region", { name: "Gains that follow pose and load" })
			.getByRole("button", { name: "Put into the rack" })
			.click();
		await page.getByText(/These gains follow 'boom' and the load: at this operating point times/).waitFor();
		await page.screenshot({ path: "out/screens/following-gains.png", fullPage: true });
		await page.getByRole("button", { name: "Let them stay as they are" }).click();
		await page.getByText(/These gains follow/).waitFor({ state: "detached" });
		await page.keyboard.press("Control+z");
		await page.getByText(/These gains follow/).waitFor();
		expect(troubles).toEqual([]);
		await context.close();
	});
});
