import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { afterAll, describe, expect, inject, it } from "vitest";
import { run } from "../cli/run.ts";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

const place = (page: Awaited<ReturnType<typeof openPage>>["page"], name: string) =>
	page.getByRole("navigation", { name: "Places" }).getByRole("button", { name }).click();

describe("the page", () => {
	it("shows the numbers of the command line", async () => {
		const { page, context } = await openPage();
		const check = JSON.parse((await run(["check", "scenarios/sandpiper.json", "--json"])).out) as {
			hover: { thrustToWeight: number; enduranceMin: number; powerW: number };
			verdict: { sentence: string };
		};
		const tally = page.locator(".tally");
		await tally.waitFor();
		const text = (await tally.textContent()) ?? "";
		expect(text).toContain(check.hover.thrustToWeight.toFixed(2));
		expect(text).toContain(`${check.hover.enduranceMin.toFixed(1)} min`);
		expect(text).toContain(`${check.hover.powerW.toFixed(0)} W`);
		await page.getByRole("region", { name: "Findings" }).getByText(check.verdict.sentence).first().waitFor();

		const compared = JSON.parse(
			(await run(["compare", "scenarios/sandpiper.json", "--drill", "roll step", "--json"])).out,
		) as { rows: { what: string; cells: { set: string; value: number | null }[] }[] };
		await place(page, "Proof");
		await page.getByLabel("shown").nth(1).check();
		const table = page.getByRole("region", { name: "Same flight, same air; differences against A" });
		await table.waitFor();
		const cells = (await table.textContent()) ?? "";
		for (const what of ["least phase margin", "least gain margin up", "roll IAE"]) {
			const row = compared.rows.find((each) => each.what === what)!;
			for (const { value } of row.cells) {
				const decimals = Math.max(0, Math.min(3, 2 - Math.floor(Math.log10(Math.abs(value!)))));
				expect(cells).toContain(value!.toFixed(decimals));
			}
		}
		await context.close();
	});
	it("follows a load that is typed, and a gain that is nudged by keyboard alone", async () => {
		const { page, context } = await openPage();
		const stick = page.locator(".tally div", { hasText: "thrust to weight" }).locator("b");
		await stick.waitFor();
		const before = await stick.textContent();
		const mass = page.getByRole("textbox", { name: "Propeller, tip to tip" }).last();
		await mass.fill("10 in");
		await mass.press("Enter");
		await page.getByRole("combobox", { name: "Operating point" }).selectOption("full scoop");
		await expect.poll(async () => await stick.textContent()).not.toBe(before);
		await place(page, "Gains");
		const kp = page.getByRole("textbox", { name: "kp", exact: true }).first();
		await kp.waitFor();
		const typed = await kp.inputValue();
		await kp.focus();
		await page.keyboard.press("ArrowUp");
		await expect.poll(async () => await kp.inputValue()).not.toBe(typed);
		await page.getByRole("button", { name: /^Undo kp of roll/ }).click();
		await expect.poll(async () => await kp.inputValue()).toBe(typed);
		await context.close();
	});
	it("saves a picture as SVG and as PNG, the SVG as the command line draws it", async () => {
		const { page, context } = await openPage();
		await page.locator(".save").first().waitFor();
		for (const [kind, head] of [
			["SVG", "<svg"],
			["PNG", "\u0089PNG"],
			["CSV", "panel,curve"],
		] as const) {
			const coming = page.waitForEvent("download");
			await page.locator(".save").first().getByRole("button", { name: kind }).click();
			const file = await coming;
			expect(file.suggestedFilename()).toMatch(new RegExp(`\\.${kind.toLowerCase()}$`));
			const path = await file.path();
			expect(readFileSync(path).toString("latin1").slice(0, 400)).toContain(head);
		}
		await context.close();
	});
	it("begins with less than 200 kB of script", async () => {
		const page = await (await fetch(inject("pageUrl"))).text();
		const scripts = [...page.matchAll(/(?:src|href)="(\/assets\/[^"]+\.js)"/g)].map((match) => match[1]!);
		expect(scripts.length).toBeGreaterThan(0);
		let bytes = 0;
		for (const path of scripts) {
			const answer = await fetch(new URL(path, inject("pageUrl")));
			bytes += gzipSync(Buffer.from(await answer.arrayBuffer())).length;
		}
		expect(bytes).toBeLessThan(200_000);
	});
});
