import { type Browser, chromium, type Page } from "playwright-core";
import { buildAndServe } from "../tests/browser/built-page.ts";
import { findChromium } from "../tests/browser/chromium.ts";
import { dragMoves, type MoveTimes, watchDrawing } from "./page-drag.ts";

interface PlaneTiming {
	readonly cells: number;
	/** Cells a side. */
	readonly side: number;
	readonly seconds: number;
}

const VISITS = 3;
const MOVES = 60;

/** The page as it is shipped, in a real Chromium; each part measures when it is called, in this order. */
export interface PageBench {
	/** From asking for the page until a flown curve is drawn, milliseconds; nothing in the browser's store, and on a reload. */
	firstPictures(): Promise<{ readonly firstVisitMs: number[]; readonly reloadMs: number[] }>;
	drag(): Promise<readonly MoveTimes[]>;
	plane(kind: "margins" | "flown"): Promise<PlaneTiming>;
	close(): Promise<void>;
}

export async function benchPage(): Promise<PageBench> {
	const site = await buildAndServe();
	const { executablePath, args, env } = await findChromium();
	const browser = await chromium.launch({ executablePath, args: [...args], env: { ...env } });
	let gains: Promise<Page> | null = null;
	const atGains = (): Promise<Page> => {
		gains ??= open(browser, site.url).then(async (page) => {
			await page.getByRole("button", { name: "Gains" }).first().click();
			await page.getByRole("button", { name: /^set A: kp/ }).waitFor();
			await page.getByRole("button", { name: "Put the plane away" }).click();
			return page;
		});
		return gains;
	};
	return {
		async firstPictures() {
			const firstVisitMs: number[] = [];
			const reloadMs: number[] = [];
			for (let i = 0; i < VISITS; i++) {
				const page = await open(browser, site.url);
				firstVisitMs.push(await firstPicture(page));
				await page.reload();
				reloadMs.push(await firstPicture(page));
				await page.context().close();
			}
			return { firstVisitMs, reloadMs };
		},
		drag: async () => dragMoves(await atGains(), MOVES),
		async plane(kind) {
			const page = await atGains();
			const away = page.getByRole("button", { name: "Show the plane" });
			if ((await away.count()) > 0) await away.click();
			await page.locator(".plane-progress").waitFor();
			return plane(page, kind === "flown" ? "overshootPct" : "phaseMarginDeg");
		},
		async close() {
			await browser.close();
			await site.close();
		},
	};
}

async function open(browser: Browser, url: string): Promise<Page> {
	const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: "en-GB" });
	const page = await context.newPage();
	page.setDefaultTimeout(120_000);
	// The loader that runs these files wraps named functions in a helper that the page does not have.
	await page.addInitScript("globalThis.__name = (each) => each;");
	await page.addInitScript(watchDrawing);
	await page.goto(url);
	return page;
}

/** Milliseconds since the navigation began until the demo's flight stands there as a curve. */
const firstPicture = async (page: Page): Promise<number> => {
	await page.waitForFunction(() => "firstCurveAt" in globalThis);
	return page.evaluate(() => (globalThis as unknown as { firstCurveAt: number }).firstCurveAt);
};

/** Has another plane worked out and waits for its last cell, by the page's own clock. */
async function plane(page: Page, column: string): Promise<PlaneTiming> {
	const timing = await page.evaluate(async (wanted) => {
		const choice = [...document.querySelectorAll<HTMLSelectElement>(".plane-choices select")].find((each) =>
			[...each.options].some(({ value }) => value === wanted),
		)!;
		const status = document.querySelector(".plane-progress [role=status]")!;
		const complete = (): RegExpExecArray | null => /^(\d+) cells, each/.exec(status.textContent ?? "");
		const until = (met: () => boolean): Promise<void> =>
			new Promise((resolve) => {
				const look = (): void => {
					if (!met()) return;
					observer.disconnect();
					resolve();
				};
				const observer = new MutationObserver(look);
				observer.observe(status, { childList: true, characterData: true, subtree: true });
				look();
			});
		const start = performance.now();
		choice.value = wanted;
		choice.dispatchEvent(new Event("change", { bubbles: true }));
		const isMargins = wanted === "phaseMarginDeg";
		if (isMargins) {
			// The same numbers shaded otherwise are not worked out again: another range is.
			const range = [...document.querySelectorAll<HTMLSelectElement>(".plane-choices select")].find((each) =>
				[...each.options].some(({ value }) => value === "log2"),
			)!;
			range.value = "log2";
			range.dispatchEvent(new Event("change", { bubbles: true }));
		}
		await until(() => complete() === null);
		await until(() => complete() !== null);
		return { cells: Number(complete()![1]), ms: performance.now() - start };
	}, column);
	return { cells: timing.cells, side: Math.round(Math.sqrt(timing.cells)), seconds: timing.ms / 1000 };
}
