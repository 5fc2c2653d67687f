import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

/** Grey levels that differ in a picture of the canvas: how many, decoded by the page itself. */
async function shades(page: Page, png: Buffer): Promise<number> {
	return page.evaluate(async (base64) => {
		const bytes = Uint8Array.from(atob(base64), (each) => each.charCodeAt(0));
		const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
		const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
		const context = canvas.getContext("2d")!;
		context.drawImage(bitmap, 0, 0);
		const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
		const counts = new Map<number, number>();
		for (let i = 0; i < data.length; i += 4) counts.set(data[i]!, (counts.get(data[i]!) ?? 0) + 1);
		return [...counts.values()].filter((count) => count > 20).length;
	}, png.toString("base64"));
}

const drawn = (page: Page, more: number) =>
	page.waitForFunction(
		(least) => Number(document.querySelector<HTMLElement>(".scene-host")?.dataset["drawn"] ?? 0) > least,
		more,
	);

describe.each(["light", "dark"] as const)("the craft in 3D, %s", (colorScheme) => {
	it("is drawn, named, turned by keys, and rests when nothing changes", async () => {
		const { page, context, troubles } = await openPage({ colorScheme });
		const host = page.getByRole("img", { name: "The craft in 3D" });
		await host.scrollIntoViewIfNeeded();
		await drawn(page, 0);
		await page.evaluate(() => document.querySelector<HTMLElement>(".scene-host .words")?.remove());
		expect(await shades(page, await host.screenshot())).toBeGreaterThan(20);
		await host.focus();
		const before = await host.getAttribute("data-around");
		const count = Number(await host.getAttribute("data-drawn"));
		const pictureBefore = await host.screenshot();
		await page.keyboard.press("ArrowRight");
		await drawn(page, count);
		expect(await host.getAttribute("data-around")).not.toBe(before);
		expect((await host.screenshot()).equals(pictureBefore)).toBe(false);
		const resting = await host.getAttribute("data-drawn");
		await page.evaluate(
			() =>
				new Promise<void>((resolve) => {
					let left = 10;
					requestAnimationFrame(function next() {
						if (--left > 0) requestAnimationFrame(next);
						else resolve();
					});
				}),
		);
		expect(await host.getAttribute("data-drawn")).toBe(resting);
		expect(troubles).toEqual([]);
		await context.close();
	});
});

describe("the replay", () => {
	it("stands still until asked, goes to the instant of the scrubber and says where the craft is", async () => {
		const { page, context, troubles } = await openPage();
		await page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: "Proof" }).click();
		const host = page.getByRole("img", { name: "The flight in 3D" });
		await host.scrollIntoViewIfNeeded();
		await drawn(page, 0);
		await page.getByRole("button", { name: "Play" }).waitFor();
		const start = await host.screenshot();
		await page.getByText("0.00 s", { exact: true }).waitFor();
		await page.getByRole("slider", { name: "Time in the flight" }).fill("1.3");
		await page.getByText("1.30 s", { exact: true }).waitFor();
		const count = Number(await host.getAttribute("data-drawn"));
		await page.getByRole("button", { name: "from behind" }).click();
		await drawn(page, count);
		expect((await host.screenshot()).equals(start)).toBe(false);
		await page.getByRole("button", { name: "Play" }).click();
		await page.getByRole("button", { name: "Pause" }).waitFor();
		await page.getByRole("button", { name: "Play" }).waitFor();
		expect(
			Number(await page.getByRole("slider", { name: "Time in the flight" }).inputValue()),
		).toBeGreaterThan(1.3);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
