import type { Locator, Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";
import { exactNumbers, goTo, readTable } from "./reading.ts";

afterAll(closeBrowser);

const SEVEN = [
	["Mass, ready to fly", "1.3 kg"],
	["Hub to hub", "400 mm"],
	["Propeller, tip to tip", "9 in"],
	["Most thrust of one motor", "800 g"],
	["Motor lag", "45 ms"],
	["Loop rate", "400 Hz"],
	["Battery cells", "4"],
] as const;
const LINE_UP = "Same flight, same air; differences against A";

/** Presses Tab until the focus is there, which must then be seen. */
async function tabTo(page: Page, what: Locator): Promise<void> {
	await what.first().waitFor();
	for (let i = 0; i < 300; i++) {
		await page.keyboard.press("Tab");
		if (!(await what.first().evaluate((element) => element === document.activeElement))) continue;
		const seen = await what.first().evaluate((element) => {
			const { outlineStyle, outlineWidth } = getComputedStyle(element);
			return outlineStyle !== "none" && Number.parseFloat(outlineWidth) >= 1;
		});
		expect(seen, "the focus is seen").toBe(true);
		return;
	}
	throw new Error(`the focus never comes to ${what}`);
}

/** Two sets of one's own craft stand side by side, with what the one trades for the other. */
async function expectLineUp(page: Page): Promise<void> {
	await page.getByRole("table", { name: LINE_UP }).waitFor();
	const rows = await readTable(page, LINE_UP);
	// The set worked on stands first.
	const [, b, a] = rows.get("least phase margin")!;
	expect(a!.exact).toBeGreaterThan(30);
	expect(b!.exact).toBeGreaterThan(30);
	expect(b!.exact).not.toBe(a!.exact);
	expect(b!.text).toMatch(/\([+\u2212][\d.]+\)/);
	await page.getByText(/^Against A, B .*(closer|further|less|harder|more)/).waitFor();
	expect(await page.locator("main").textContent()).not.toContain("Invented craft");
}

describe("from the first visit to a compared pair of gain sets for one's own craft", () => {
	it("by pointing", async () => {
		const { page, context, troubles } = await openPage();
		const form = page.getByRole("form", { name: "Your own craft" });
		for (const [label, text] of SEVEN) await form.getByLabel(label).fill(text);
		await page.getByRole("button", { name: "This is my craft" }).click();
		await page.getByText("stand in the rack as set A").waitFor();
		await goTo(page, "Gains");
		await page.getByRole("button", { name: "gentle", exact: true }).click();
		await page.getByRole("button", { name: "Put into the rack" }).click();
		await page.getByRole("checkbox", { name: "shown" }).first().check();
		await goTo(page, "Proof");
		await expectLineUp(page);
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("by keyboard alone, the focus always in sight", async () => {
		const { page, context, troubles } = await openPage();
		const form = page.getByRole("form", { name: "Your own craft" });
		for (const [label, text] of SEVEN) {
			await tabTo(page, form.getByLabel(label));
			await page.keyboard.type(text);
		}
		await page.keyboard.press("Enter");
		await page.getByText("stand in the rack as set A").waitFor();
		const path = page.getByRole("navigation", { name: "Places" });
		await tabTo(page, path.getByRole("button", { name: "Gains" }));
		await page.keyboard.press("Enter");
		await tabTo(page, page.getByRole("button", { name: "gentle", exact: true }));
		await page.keyboard.press("Enter");
		await tabTo(page, page.getByRole("button", { name: "Put into the rack" }));
		await page.keyboard.press("Enter");
		await tabTo(page, page.getByRole("checkbox", { name: "shown" }).first());
		await page.keyboard.press("Space");
		await tabTo(page, path.getByRole("button", { name: "Proof" }));
		await page.keyboard.press("Enter");
		await expectLineUp(page);
		expect(troubles).toEqual([]);
		await context.close();
	});
});

describe("a number that is changed", () => {
	it("moves everything that hangs on it: a payload's mass, typed in pounds", async () => {
		const { page, context, troubles } = await openPage();
		await page.getByRole("combobox", { name: "Operating point" }).selectOption("full scoop");
		const tally = page.locator(".tally");
		const settled = () => page.waitForFunction(() => document.querySelector('[aria-busy="true"]') === null);
		const read = async () => {
			await tally.waitFor();
			await settled();
			const [stickPercent, thrustToWeight] = await exactNumbers(tally);
			await goTo(page, "Gains");
			const line = page.locator(".latency p").first();
			await line.waitFor();
			await settled();
			const [, phaseDeg, delayMs] = await exactNumbers(line);
			await goTo(page, "Craft");
			return { stickPercent, thrustToWeight, phaseDeg, delayMs } as Record<string, number>;
		};
		const before = await read();
		const load = page.getByLabel("Heaviest load");
		await load.fill("1.3 lb");
		await load.press("Enter");
		expect(await load.inputValue()).toBe("1.3 lb");
		await expect
			.poll(async () => (await exactNumbers(tally))[0])
			.toBeGreaterThan(before["stickPercent"]! + 1);
		const after = await read();
		expect(after["thrustToWeight"]).toBeLessThan(before["thrustToWeight"]! - 0.05);
		expect(after["phaseDeg"]).not.toBeCloseTo(before["phaseDeg"]!, 3);
		expect(after["delayMs"]).not.toBeCloseTo(before["delayMs"]!, 3);
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("moves the margin while it is dragged: an edge of the latency line, one step of undo", async () => {
		const { page, context, troubles } = await openPage();
		await goTo(page, "Gains");
		const line = page.locator(".latency p").first();
		const edge = page.getByRole("slider", { name: "motor lag, slowing down" });
		await edge.waitFor();
		const now = async () => Number(await edge.getAttribute("aria-valuenow"));
		const before = await now();
		const [, phaseDeg] = await exactNumbers(line);
		await edge.evaluate((element) => element.scrollIntoView({ block: "center" }));
		const box = (await edge.boundingBox())!;
		await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
		await page.mouse.down();
		for (let i = 1; i <= 10; i++) await page.mouse.move(box.x + box.width / 2 + 12 * i, box.y + 5);
		// Still held: the margin follows all the same.
		await expect.poll(async () => (await exactNumbers(line))[1]).toBeLessThan(phaseDeg! - 0.05);
		await page.mouse.up();
		expect(await now()).toBeGreaterThan(before);
		await page.getByRole("button", { name: "Undo motor lag, slowing down" }).click();
		await expect.poll(now).toBeCloseTo(before, 9);
		await expect.poll(async () => (await exactNumbers(line))[1]).toBeCloseTo(phaseDeg!, 9);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
