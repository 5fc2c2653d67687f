import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";
import { goTo } from "./reading.ts";

afterAll(closeBrowser);

/** The plane's title, whether the chart library draws it yet or the plain drawing still stands there. */
const titled = (page: Page, words: string): Promise<void> =>
	page.locator(".plane").getByText(words).first().waitFor({ state: "attached" });

describe("a choice", () => {
	it("of gains, range or result is what the plane then shows", async () => {
		const { page, context, troubles } = await openPage();
		await goTo(page, "Gains");
		const cross = page.getByRole("button", { name: /^Crosshair at/ });
		await cross.waitFor();
		const words = async () => (await cross.getAttribute("aria-label"))!;
		const before = await words();
		expect(before).toMatch(/^Crosshair at kp .*, ki /);
		await page.getByLabel("Range about the set").selectOption("linear4");
		await expect.poll(words).not.toBe(before);
		await page.getByRole("combobox", { name: "Up", exact: true }).selectOption("kAngle");
		await expect.poll(words).toMatch(/^Crosshair at kp .*, k_angle /);
		await page.getByRole("combobox", { name: "Across", exact: true }).selectOption("kd");
		await expect.poll(words).toMatch(/^Crosshair at kd .*, k_angle /);
		await page.getByLabel("Shaded by").selectOption("overshootPct");
		await titled(page, "roll: overshoot of the drill");
		await page.getByText(/^[1-9]\d* (of \d+ )?cells, each a flight/).waitFor();
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("of an axis is what latency line, plane and step are of", async () => {
		const { page, context, troubles } = await openPage();
		await goTo(page, "Gains");
		const line = page.locator(".latency");
		const phases = new Set<string>();
		for (const [axis, step] of [
			["roll", "roll angle"],
			["pitch", "pitch angle"],
			["yaw", "turn rate"],
		] as const) {
			await page.getByRole("button", { name: axis, exact: true }).click();
			await titled(page, `${axis}: distance of the worst corner`);
			await page.getByText(`${step} over time`, { exact: false }).first().waitFor({ state: "attached" });
			await expect
				.poll(async () => phases.has((await line.locator("data").nth(1).getAttribute("value"))!))
				.toBe(false);
			phases.add((await line.locator("data").nth(1).getAttribute("value"))!);
		}
		expect(phases.size).toBe(3);
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("to fly the ways of losing it is followed by all ten", async () => {
		const { page, context, troubles } = await openPage();
		await page.getByRole("button", { name: "Fly them" }).click();
		await page.locator("ol.ways").waitFor({ timeout: 100_000 });
		expect(await page.locator("ol.ways > li").count()).toBe(10);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
