import type { Locator, Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { type MainThread, traceMainThread } from "./main-thread.ts";
import { closeBrowser, openPage } from "./open-page.ts";
import { goTo } from "./reading.ts";

afterAll(closeBrowser);

/** No task of the page's thread may compute for longer, milliseconds. */
const MOST = 100;

/** Long by the clock, as the page itself can tell; on a busy machine also tasks that only waited for a processor. */
async function watchLongTasks(page: Page): Promise<() => Promise<number[]>> {
	await page.evaluate(() => {
		const seen: number[] = [];
		Object.assign(globalThis, { longTasks: seen });
		new PerformanceObserver((list) => {
			for (const each of list.getEntries()) seen.push(each.duration);
		}).observe({ type: "longtask" });
	});
	return () => page.evaluate(() => (globalThis as unknown as { longTasks: number[] }).longTasks);
}

function judge(about: string, { tasks, longest, longestByClock }: MainThread, observed: number[]): void {
	console.log(
		`${about}: longest task ${longest.toFixed(0)} ms of processor time, ${longestByClock.toFixed(0)} ms by the clock, of ${tasks.length}; observed over 100 ms by the clock: ${observed.filter((each) => each > 100).length}`,
	);
	expect(tasks.length).toBeGreaterThan(50);
	// A trace without processor times would let everything pass.
	expect(longest).toBeGreaterThan(1);
	expect(longest).toBeLessThan(MOST);
}

/** The page after load: both chart libraries are there and have drawn. */
async function openGains() {
	const opened = await openPage();
	const { page } = opened;
	await goTo(page, "Gains");
	await page.getByRole("button", { name: /^set A: kp/ }).waitFor();
	await page.locator(".plot canvas").first().waitFor();
	return opened;
}

/** Drags something by the mouse there and half the way back; every move is a frame of its own. */
async function drag(page: Page, what: Locator, stepPx: number): Promise<void> {
	await what.evaluate((element) => element.scrollIntoView({ block: "center" }));
	const box = (await what.boundingBox())!;
	const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
	await page.mouse.move(x, y);
	await page.mouse.down();
	for (let i = 1; i <= 40; i++) {
		await page.mouse.move(x + stepPx * (i <= 27 ? i : 54 - i), y + (i % 7));
		await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
	}
	await page.mouse.up();
}

describe("the page's own thread", () => {
	it("computes for no more than 100 ms at a time while a plane of flights fills and is cancelled", async () => {
		const { page, context } = await openGains();
		const observed = await watchLongTasks(page);
		const traced = await traceMainThread(page, async () => {
			await page.getByLabel("Shaded by").selectOption("overshootPct");
			await page.getByText(/cells, each a flight/).waitFor();
			await page.waitForFunction(
				() => (document.querySelector(".plane-progress progress") as HTMLProgressElement).value >= 250,
				undefined,
				{ timeout: 100_000 },
			);
			await page.getByRole("button", { name: "Cancel the plane" }).click();
			await page.getByText(/^Cancelled: \d+ of \d+ cells, each a flight/).waitFor();
		});
		judge("plane of flights", traced, await observed());
		await context.close();
	});
	it("nor while the dot of a set is dragged over the plane", async () => {
		const { page, context } = await openGains();
		const observed = await watchLongTasks(page);
		const kp = page.locator(".wiring.wide").getByLabel("kp", { exact: true });
		const before = await kp.inputValue();
		const traced = await traceMainThread(page, () =>
			drag(page, page.getByRole("button", { name: /^set A: kp/ }), -4),
		);
		expect(await kp.inputValue()).not.toBe(before);
		judge("gain dot", traced, await observed());
		await context.close();
	});
	it("nor while an edge of the latency line is dragged", async () => {
		const { page, context } = await openGains();
		const observed = await watchLongTasks(page);
		const edge = page.locator(".latency .edge").last();
		const before = await edge.getAttribute("aria-valuenow");
		const traced = await traceMainThread(page, async () => {
			await drag(page, edge, 2);
			await page.waitForFunction(() => document.querySelector('.latency[aria-busy="true"]') === null);
		});
		expect(await page.locator(".latency .edge").last().getAttribute("aria-valuenow")).not.toBe(before);
		judge("latency edge", traced, await observed());
		await context.close();
	});
});
