import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { inject } from "vitest";
import { findChromium } from "./chromium.ts";

export interface OpenPage {
	readonly page: Page;
	readonly context: BrowserContext;
	/** Errors, refused requests and policy violations that the page has met so far. */
	readonly troubles: readonly string[];
	/** Every host that was asked for anything. */
	readonly hosts: ReadonlySet<string>;
}

let browser: Promise<Browser> | null = null;

/** One Chromium for all tests of a file; close it in `afterAll`. */
function startBrowser(): Promise<Browser> {
	browser ??= findChromium().then(({ executablePath, args, env }) =>
		chromium.launch({ executablePath, args: [...args], env: { ...env } }),
	);
	return browser;
}

export async function closeBrowser(): Promise<void> {
	await (await browser)?.close();
	browser = null;
}

/** A fresh visit: nothing kept, nothing cached. */
export async function openPage(
	options: {
		readonly width?: number;
		readonly height?: number;
		readonly colorScheme?: "light" | "dark";
		readonly path?: string;
		/** Runs in the page before any script of its own. */
		readonly beforeLoad?: () => void;
	} = {},
): Promise<OpenPage> {
	const context = await (await startBrowser()).newContext({
		viewport: { width: options.width ?? 1440, height: options.height ?? 900 },
		colorScheme: options.colorScheme ?? "light",
		// A headless browser takes its language from the machine, where it may be none ("en-US@posix").
		locale: "en-GB",
		reducedMotion: "reduce",
		acceptDownloads: true,
	});
	const page = await context.newPage();
	if (options.beforeLoad) await page.addInitScript(options.beforeLoad);
	const troubles: string[] = [];
	page.on("pageerror", (error) => troubles.push(`error: ${error.message}`));
	page.on("console", (message) => {
		if (message.type() === "error") troubles.push(`console: ${message.text()}`);
	});
	const hosts = new Set<string>();
	page.on("request", (request) => hosts.add(new URL(request.url()).host));
	page.on("requestfailed", (request) => troubles.push(`request failed: ${request.url()}`));
	await page.goto(inject("pageUrl") + (options.path ?? ""));
	return { page, context, troubles, hosts };
}
