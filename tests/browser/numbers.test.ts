import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

/** Everything large that is drawn on the page now, with the rows of the table that it points to once that is open. */
async function picturesOf(page: Page) {
	const folded = page.locator("main details.numbers:not([open]) > summary");
	while ((await folded.count()) > 0) await folded.first().click();
	return page.evaluate(() => {
		const drawn = [...document.querySelectorAll<Element>("main svg, main canvas, main .strip")].filter(
			(each) => {
				const { width, height } = each.getBoundingClientRect();
				// A chart library nests drawings in drawings: the outermost counts.
				const outer = each.parentElement?.closest("svg, canvas, .strip");
				return width > 60 && height > 40 && !outer;
			},
		);
		const holders = new Map<Element | null, number>();
		for (const each of drawn) {
			const holder = each.closest("[aria-details]");
			const table = document.getElementById(holder?.getAttribute("aria-details") ?? "");
			holders.set(holder ?? each, table?.querySelectorAll("tbody tr").length ?? 0);
		}
		return [...holders].map(([holder, rows]) => ({
			name: holder?.getAttribute("aria-label") ?? holder?.textContent?.slice(0, 40) ?? "",
			rows,
		}));
	});
}

/** All of them have a table with rows; how many they are. */
async function counted(page: Page): Promise<number> {
	await expect.poll(async () => (await picturesOf(page)).filter(({ rows }) => rows === 0)).toEqual([]);
	return (await picturesOf(page)).length;
}

const goTo = (page: Page, place: string) =>
	page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: place }).click();

describe("every picture has its numbers as a table", () => {
	it("in all four places", async () => {
		const { page, context, troubles } = await openPage({ height: 2400 });
		await page.locator(".uplot").first().waitFor();
		await page.locator(".scene-host canvas").waitFor();
		// The step and the craft in 3D.
		expect(await counted(page)).toBe(2);

		await goTo(page, "Gains");
		await page.getByRole("button", { name: "Show the proof" }).click();
		await page.locator(".js-plotly-plot").nth(2).waitFor();
		await page.locator(".uplot").first().waitFor();
		await page.locator(".latency .segments").first().waitFor();
		// Latency line, loop, step, gain plane, Bode, Nyquist.
		expect(await counted(page)).toBe(6);

		await page.getByRole("button", { name: "A step in every corner" }).click();
		await page.getByRole("status").filter({ hasText: "corners flown" }).waitFor();
		expect(await counted(page)).toBe(6);

		await goTo(page, "Proof");
		await page.locator(".scene-host canvas").waitFor();
		// Silhouettes, replay, traces.
		expect(await counted(page)).toBe(3);

		await goTo(page, "Field");
		await page.getByText("At a glance").waitFor();
		expect(await counted(page)).toBe(0);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
