import { readFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

const wren = JSON.parse(readFileSync(new URL("../../scenarios/wren.json", import.meta.url), "utf8"));

describe("starting gains that do not exist", () => {
	it("say what they miss, and which single change would make them possible", {
		timeout: 120_000,
	}, async () => {
		const { page, context, troubles } = await openPage();
		await page.getByLabel("Scenario file").setInputFiles({
			name: "strict.json",
			mimeType: "application/json",
			// Next to no feedback keeps such a limit, and no change of the craft helps.
			buffer: Buffer.from(JSON.stringify({ ...wren, name: "strict", tuning: { even: { ms: 1.005 } } })),
		});
		await page.getByRole("heading", { name: "strict", exact: true }).waitFor();
		await page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: "Gains" }).click();
		const sheet = page.getByRole("region", { name: "Starting gains" });
		await sheet.getByRole("button", { name: "even" }).click();
		await sheet.getByText(/^roll: no gains keep every limit/).waitFor();
		expect(await sheet.getByRole("button", { name: "Put into the rack" }).count()).toBe(0);
		await sheet.getByRole("button", { name: "What would make it possible?" }).click();
		await sheet.getByRole("heading", { name: "What would make it possible, cheapest first" }).waitFor();
		await sheet.getByText("No single change that was tried is enough by itself.").waitFor();
		await page.screenshot({ path: "out/screens/no-starting-gains.png", fullPage: true });
		expect(troubles).toEqual([]);
		await context.close();
	});
});
