import { readFileSync } from "node:fs";
import { afterAll, describe, expect, inject, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

const WREN = readFileSync(new URL("../../scenarios/wren.json", import.meta.url));

describe("what was made is not lost", () => {
	it("stands there again after a reload, and in a second tab, which then goes its own way", async () => {
		const { page, context, troubles } = await openPage();
		const load = page.getByLabel("Heaviest load");
		await load.fill("250 g");
		await load.press("Enter");
		await page.waitForFunction(() =>
			Object.values({ ...localStorage }).some((text) => String(text).includes("250 g")),
		);
		await page.reload();
		expect(await page.getByLabel("Heaviest load").inputValue()).toBe("250 g");
		const second = await context.newPage();
		await second.goto(inject("pageUrl"));
		expect(await second.getByLabel("Heaviest load").inputValue()).toBe("250 g");
		await second.getByLabel("Heaviest load").fill("111 g");
		await second.getByLabel("Heaviest load").press("Enter");
		await second.waitForFunction(() =>
			Object.values({ ...localStorage }).some((text) => String(text).includes("111 g")),
		);
		await page.reload();
		expect(await page.getByLabel("Heaviest load").inputValue()).toBe("250 g");
		expect(troubles.filter((each) => !each.startsWith("request failed"))).toEqual([]);
		await context.close();
	});
	it("stands there again though the page was reloaded in the middle of typing", async () => {
		const { page, context } = await openPage();
		const form = page.getByRole("form", { name: "Your own craft" });
		await form.getByLabel("Mass, ready to fly").fill("1.3 kg");
		await form.getByLabel("Battery cells").fill("4");
		await page.getByLabel("Heaviest load").fill("275 g");
		await page.reload();
		expect(await page.getByLabel("Heaviest load").inputValue()).toBe("275 g");
		expect(await form.getByLabel("Mass, ready to fly").inputValue()).toBe("1.3 kg");
		expect(await form.getByLabel("Battery cells").inputValue()).toBe("4");
		await context.close();
	});
	it("says so when the browser keeps nothing", async () => {
		const { page, context } = await openPage();
		await page.getByText("Fit to hover").waitFor();
		await page.evaluate(() => {
			Storage.prototype.setItem = () => {
				throw new DOMException("full", "QuotaExceededError");
			};
		});
		await page.getByLabel("Heaviest load").fill("222 g");
		await page.getByLabel("Heaviest load").press("Enter");
		await page.getByText("This browser's storage is full").waitFor();
		await context.close();
	});
	it("opens a file and refuses a bad one with its reason, the old scenario still there", async () => {
		const { page, context } = await openPage();
		const picker = page.getByLabel("Scenario file");
		await picker.setInputFiles({ name: "wren.json", mimeType: "application/json", buffer: WREN });
		await page.getByRole("heading", { name: "wren", exact: true }).waitFor();
		await picker.setInputFiles({
			name: "bad.json",
			mimeType: "application/json",
			buffer: Buffer.from('{"levelhead": 2, "craft": {"mass": "heavy"}}'),
		});
		await page.getByText("bad.json cannot be used").waitFor();
		await page.getByRole("heading", { name: "wren", exact: true }).waitFor();
		await page.getByRole("button", { name: /^Undo/ }).click();
		await page.getByRole("heading", { name: "sandpiper", exact: true }).waitFor();
		await context.close();
	});
	it("carries a scenario in a link", async () => {
		const { page, context } = await openPage();
		await page.getByLabel("Heaviest load").fill("123 g");
		await page.getByLabel("Heaviest load").press("Enter");
		await context.grantPermissions(["clipboard-read", "clipboard-write"]);
		await page.getByRole("button", { name: "Copy link" }).click();
		await page.getByText("carries the whole scenario").waitFor();
		const link = await page.evaluate(() => navigator.clipboard.readText());
		await context.close();
		const other = await openPage({ path: link.slice(link.indexOf("#")) });
		expect(await other.page.getByLabel("Heaviest load").inputValue()).toBe("123 g");
		expect(new URL(other.page.url()).hash).toBe("");
		await other.context.close();
	});
	it("works without a network after the first visit", async () => {
		const { page, context } = await openPage();
		await page.evaluate(async () => {
			const registration = await navigator.serviceWorker.ready;
			return registration.active?.state;
		});
		await page.reload();
		await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
		await context.setOffline(true);
		await page.reload();
		await page.getByText("Fit to hover").waitFor();
		await page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: "Proof" }).click();
		await page.getByText("least phase margin").waitFor();
		await context.close();
	});
});
