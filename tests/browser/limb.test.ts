import type { Locator, Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

const drawn = (page: Page, more: number) =>
	page.waitForFunction(
		(least) => Number(document.querySelector<HTMLElement>(".scene-host")?.dataset["drawn"] ?? 0) > least,
		more,
	);
const count = async (host: Locator) => Number(await host.getAttribute("data-drawn"));

async function type(page: Page, field: string, text: string): Promise<void> {
	const input = page.getByLabel(field, { exact: true });
	await input.fill(text);
	await input.press("Enter");
}

describe("the reach arm", () => {
	it("is posed and loaded at the operating point: numbers, findings and the picture follow; undo goes back", async () => {
		const { page, context, troubles } = await openPage();
		const findings = page.getByRole("region", { name: "Findings" });
		const stick = page.locator(".tally div", { hasText: "hover stick" }).locator("b");
		const before = await stick.textContent();
		const host = page.getByRole("img", { name: "The craft in 3D" });
		await host.scrollIntoViewIfNeeded();
		await drawn(page, 0);
		await findings.getByText("folded, no load").click();
		const picture = await host.screenshot();
		const frames = await count(host);
		await type(page, "boom", "150 deg");
		await findings.getByText("boom 150\u00b0, scoop 0\u00b0, no load").waitFor();
		expect(await page.getByRole("combobox", { name: "Operating point" }).inputValue()).toBe("nominal, mine");
		await drawn(page, frames);
		expect((await host.screenshot()).equals(picture)).toBe(false);
		await findings.getByText(/Nearest to a propeller: '\w+', \d+ mm/).waitFor();

		// By keys: a degree at a time, ten with shift.
		await page.getByRole("slider", { name: "boom, slider" }).focus();
		await page.keyboard.press("ArrowLeft");
		await page.keyboard.press("Shift+ArrowLeft");
		await findings.getByText("boom 139\u00b0").waitFor();

		await type(page, "load", "300 g");
		await findings.getByText("300 g in the grip").waitFor();
		await expect.poll(() => stick.textContent(), { timeout: 30_000 }).not.toBe(before);
		await findings.getByText(/'boom' 0\.\d\d of its 2\.40 N m/).waitFor();

		await type(page, "boom", "190 deg");
		await findings.getByText("within the travel of 'boom', 0 deg to 180 deg").waitFor();
		await type(page, "load", "400 g");
		await findings.getByText("expected 0 to the heaviest load, 300 g").waitFor();
		await findings.getByText("boom 139\u00b0, scoop 0\u00b0, 300 g in the grip").waitFor();

		await page.getByRole("button", { name: /^Undo/ }).click();
		await findings.getByText("boom 139\u00b0, scoop 0\u00b0, no load").waitFor();
		await findings.getByRole("button", { name: "Folded" }).click();
		await findings.getByText("folded, no load").waitFor();
		await findings.getByRole("button", { name: "Take out 'nominal, mine'" }).click();
		await expect
			.poll(() => page.getByRole("combobox", { name: "Operating point" }).inputValue())
			.toBe("nominal");
		await expect.poll(() => stick.textContent(), { timeout: 30_000 }).toBe(before);
		expect(troubles).toEqual([]);
		await context.close();
	});

	it("refuses a pose too near to a propeller and says how near", async () => {
		const { page, context, troubles } = await openPage();
		// A wide scoop, and no drill that would have to swing it.
		const { drills: _, ...rest } = sandpiper;
		const wide = { ...rest, craft: { ...rest.craft, limb: { ...rest.craft.limb, gripRadius: "90 mm" } } };
		await page.getByLabel("Scenario file").setInputFiles({
			name: "wide.json",
			mimeType: "application/json",
			buffer: Buffer.from(JSON.stringify(wide)),
		});
		await page.getByText("wide.json is open").waitFor();
		const findings = page.getByRole("region", { name: "Findings" });
		await findings.getByText("folded, no load").click();
		await type(page, "scoop", "-180 deg");
		await findings.getByText("a pose that stays 10 mm clear of every propeller").waitFor();
		await findings.getByText("folded, no load").waitFor();
		expect(troubles).toEqual([]);
		await context.close();
	});

	it("swings out in the replay, its angles and torques under the flight, and is flown with and without load", async () => {
		const { page, context, troubles } = await openPage();
		await page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: "Proof" }).click();
		await page.getByLabel("Which drill").selectOption("swing out");
		await page.getByText("servo of boom, N m").waitFor({ timeout: 60_000 });
		await page.getByText("travel ends at 180\u00b0").waitFor();
		await page.getByText("at most 2.40 N m").waitFor();
		const host = page.getByRole("img", { name: "The flight in 3D" });
		await host.scrollIntoViewIfNeeded();
		await drawn(page, 0);
		await page.getByText(/boom 0°/).waitFor();
		await page.getByRole("slider", { name: "Time in the flight" }).fill("3");
		await page.getByText(/boom 150°; scoop \u2212150°/).waitFor();

		const section = page.getByRole("region", { name: "With and without load" });
		await section.getByRole("button", { name: "With and without load" }).click();
		await section
			.getByText(
				/^Set A holds without load but fails with 300 g in the grip: drill 'swing out': hit the ground/,
			)
			.waitFor({ timeout: 90_000 });
		const row = section.getByRole("row", { name: /^thrust to weight/ });
		const [without, laden] = (await row.getByRole("cell").allTextContents()).slice(-2).map(Number.parseFloat);
		expect(laden!).toBeLessThan(without!);
		expect(
			await section.locator(".picture svg").getByText("set A with 300 g in the grip").count(),
		).toBeGreaterThan(0);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
