import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";
import { goTo } from "./reading.ts";

afterAll(closeBrowser);

/** Kept to be looked at; not part of the project. */
const FOLDER = join(import.meta.dirname, "../../out/screens");
/** An empty page has two or three colours: paper, ink, a line. */
const LEAST_COLOURS = 24;

const PLACES = [
	{ place: "Craft", ready: "thrust to weight" },
	{ place: "Gains", ready: "Crossover at" },
	{ place: "Proof", ready: "least phase margin" },
	{ place: "Field", ready: "At a glance" },
] as const;

/** Colours, four bits a channel, that more than 20 pixels of a PNG have; decoded by the page itself. */
const coloursOf = (page: Page, png: Buffer): Promise<number> =>
	page.evaluate(async (base64) => {
		const bytes = Uint8Array.from(atob(base64), (each) => each.charCodeAt(0));
		const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
		const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
		const context = canvas.getContext("2d")!;
		context.drawImage(bitmap, 0, 0);
		const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
		const counts = new Map<number, number>();
		for (let i = 0; i < data.length; i += 4) {
			const key = ((data[i]! >> 4) << 8) | ((data[i + 1]! >> 4) << 4) | (data[i + 2]! >> 4);
			counts.set(key, (counts.get(key) ?? 0) + 1);
		}
		return [...counts.values()].filter((count) => count > 20).length;
	}, png.toString("base64"));

describe.each([
	{ width: 1440, colorScheme: "light" },
	{ width: 1440, colorScheme: "dark" },
	{ width: 1024, colorScheme: "light" },
	{ width: 1024, colorScheme: "dark" },
	{ width: 390, colorScheme: "light" },
	{ width: 390, colorScheme: "dark" },
] as const)("$width px, $colorScheme", ({ width, colorScheme }) => {
	it("every place fills its screen, needs no sideways scrolling and meets no error", async () => {
		mkdirSync(FOLDER, { recursive: true });
		const { page, context, troubles } = await openPage({ width, colorScheme });
		for (const { place, ready } of PLACES) {
			await page.setViewportSize({ width, height: width === 390 ? 844 : 900 });
			await goTo(page, place);
			await page.getByText(ready).first().waitFor();
			await page.waitForFunction(() => document.querySelector('main [aria-busy="true"]') === null);
			if (place === "Craft" || place === "Gains") await page.locator(".plot canvas").first().waitFor();
			if (place === "Gains") await page.locator(".plane .heatmaplayer image").first().waitFor();
			// The whole place in one window: what stays at its edges stands there once.
			const height = await page.evaluate(() => document.documentElement.scrollHeight);
			await page.setViewportSize({ width, height: Math.min(6000, height) });
			if (place === "Craft" || place === "Proof")
				await page.waitForFunction(
					() => Number(document.querySelector<HTMLElement>(".scene-host")?.dataset["drawn"] ?? 0) > 0,
				);
			// Pictures take their width from the window once they are laid out.
			await page.waitForFunction(() => document.documentElement.scrollWidth <= innerWidth);
			const png = await page.screenshot();
			writeFileSync(join(FOLDER, `${place.toLowerCase()}-${width}-${colorScheme}.png`), png);
			expect(await coloursOf(page, png), `colours of ${place}`).toBeGreaterThan(LEAST_COLOURS);
		}
		expect(troubles).toEqual([]);
		await context.close();
	});
});
