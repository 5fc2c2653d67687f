import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { FIELD_GROUPS } from "../../src/ui/places/craft/field-groups.ts";
import { closeBrowser, openPage } from "./open-page.ts";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

afterAll(closeBrowser);

const comesTo = (page: Page, what: string) =>
	page.getByLabel("What it comes to").first().locator("div", { hasText: what }).locator("dd");
const group = (page: Page, title: string) =>
	page.locator("details.group", { has: page.locator("summary > h2", { hasText: new RegExp(`^${title}$`) }) });
const undo = (page: Page) => page.getByRole("button", { name: /^Undo/ });
const openAll = (page: Page, what: string) =>
	page.evaluate((selector) => {
		for (const each of document.querySelectorAll<HTMLDetailsElement>(selector)) each.open = true;
	}, what);

describe("lists on the place Craft", () => {
	it("takes a new part by keyboard alone; mass, hover stick and budget follow, and undo takes it back", async () => {
		const { page, context, troubles } = await openPage();
		const mass = comesTo(page, "mass");
		const stick = comesTo(page, "hover stick");
		await expect.poll(() => stick.textContent()).toMatch(/%$/);
		const before = await stick.textContent();
		expect(await mass.first().textContent()).toBe("1900 g");

		await page.getByRole("button", { name: "Add a part" }).focus();
		await page.keyboard.press("Enter");
		const part = page.getByRole("list", { name: "Parts" }).locator("> li").last();
		await expect
			.poll(() => part.getByLabel("Name", { exact: true }).evaluate((e) => e === document.activeElement))
			.toBe(true);
		// Until its mass is written the craft stays what it was, and the page says why.
		await part.getByText("craft.parts[11].mass: nothing, expected a mass").waitFor();
		await page.keyboard.type("camera");
		await page.keyboard.press("Tab");
		await page.keyboard.type("0.2 lb");
		await page.keyboard.press("Enter");
		// 0.2 lb are 90.7 g.
		await expect.poll(() => mass.first().textContent()).toBe("1991 g");
		await expect.poll(() => stick.textContent()).not.toBe(before);
		expect(Number.parseFloat((await stick.textContent())!)).toBeGreaterThan(Number.parseFloat(before!));
		await page.getByRole("region", { name: "Mass budget" }).getByText("camera").waitFor();
		expect(await part.locator("summary").textContent()).toContain("91 g4.6 % of the mass");

		const forward = part.getByLabel("Its middle, forward");
		await forward.fill("100");
		await forward.press("Enter");
		expect(await forward.inputValue()).toBe("100 mm");
		const lever = (90.718474 * 100 - 1900 * 6.2368) / 1990.718;
		await expect
			.poll(async () =>
				Number.parseFloat((await comesTo(page, "centre of mass").textContent())!.replace("\u2212", "-")),
			)
			.toBeCloseTo(lever, 1);

		for (const what of ["Its middle", "Mass of one", "name of a part", "add a part"])
			await page.getByRole("button", { name: `Undo ${what}` }).click();
		await expect.poll(() => mass.first().textContent()).toBe("1900 g");
		await expect.poll(() => stick.textContent()).toBe(before);
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("changes a part's shape, keeping what fits, and says what is missing by name", async () => {
		const { page, context } = await openPage();
		const battery = page.getByRole("list", { name: "Parts" }).locator("> li").nth(1);
		await battery.locator("summary").first().click();
		await battery.getByLabel("Shape").selectOption({ label: "cylinder, solid, along its own z" });
		expect(await battery.getByLabel("Diameter").inputValue()).toBe("48 mm");
		await battery.getByLabel("Length").fill("two feet");
		await battery.getByLabel("Length").press("Enter");
		await battery.getByText("two feet: expected a length such as").waitFor();
		await battery.getByLabel("Length").fill("-5 mm");
		await battery.getByLabel("Length").press("Enter");
		await battery.getByText('craft.parts[1].length: "-5 mm", expected a length').first().waitFor();
		await page
			.getByText("Not taken up yet: craft.parts[1].length. All numbers are those of before.")
			.waitFor();
		await undo(page).click();
		await undo(page).click();
		expect(await battery.getByLabel("Edges along its own, x").inputValue()).toBe("140 mm");
		await context.close();
	});
	it("takes a bench table out of a spreadsheet, into a cell or into the field for it", async () => {
		const { page, context, troubles } = await openPage();
		const motors = group(page, "Rotors and motors");
		await motors.getByText("Paste from a spreadsheet").click();
		const field = motors.getByLabel("Rows, as copied or as CSV");
		await field.fill("Command (%),Thrust (g),RPM\n10,much,1050\n100,1070,4900");
		await motors.getByRole("button", { name: "Take these rows" }).click();
		await motors.getByText("row 1, thrust: 'much', expected a force").waitFor();
		await field.fill("Command (%),Thrust (g),RPM\n10,60,1150\n55,480,3280\n100,1070,4900");
		await motors.getByRole("button", { name: "Take these rows" }).click();
		await motors.getByText("3 rows read: command in %, thrust in g, speed in rpm.").waitFor();
		const cell = motors.getByLabel("thrust, row 2");
		expect(await cell.inputValue()).toBe("480 g");
		expect(await motors.getByLabel("Most thrust of one motor").count()).toBe(0);

		await cell.fill("40");
		await cell.press("Enter");
		expect(await cell.inputValue()).toBe("40 g");
		await motors
			.getByText(/row 2, thrust: craft\.motors\.bench\[1\]\.thrust: "40 g", expected not below/)
			.waitFor();

		await context.grantPermissions(["clipboard-read", "clipboard-write"]);
		await page.evaluate(() =>
			navigator.clipboard.writeText("5\t40\t950\t\t15.2\n50\t450\t3150\t\t15\n100\t1070\t4900\t\t14.6"),
		);
		await cell.focus();
		await page.keyboard.press("Control+V");
		await expect.poll(() => motors.getByLabel("voltage, row 3").inputValue()).toBe("14.6 V");
		await undo(page).click();
		expect(await motors.getByLabel("thrust, row 2").inputValue()).toBe("40 g");
		expect(troubles).toEqual([]);
		await context.close();
	});
	it("begins a bench table by hand; a bare number says its unit, once one row has it", async () => {
		const { page, context } = await openPage();
		const motors = group(page, "Rotors and motors");
		await motors.getByRole("button", { name: "Begin a table by hand" }).click();
		const type = async (cell: string, text: string): Promise<void> => {
			await motors.getByLabel(cell).fill(text);
			await motors.getByLabel(cell).press("Enter");
		};
		await type("thrust, row 1", "115");
		await motors.getByText(/115: expected a force .* write the unit/).waitFor();
		await type("thrust, row 3", "1.1 kg");
		await type("thrust, row 2", "0.5");
		expect(await motors.getByLabel("thrust, row 2").inputValue()).toBe("0.5 kg");
		await type("command, row 2", "50");
		await expect.poll(() => page.getByText("Not taken up yet").count()).toBe(0);
		await context.close();
	});
	it("moves one rotor; picture, mixer and mass budget take it from there", async () => {
		const { page, context } = await openPage();
		const motors = group(page, "Rotors and motors");
		await motors.getByRole("button", { name: "List the rotors one by one" }).click();
		const rotors = motors.getByRole("list", { name: "Rotors" }).locator("> li");
		await rotors.first().locator("summary").first().click();
		const mixer = page.getByRole("region", { name: "Which motor answers which stick" });
		const before = await mixer.textContent();
		const forward = rotors.first().getByLabel("Its hub, forward");
		expect(await forward.inputValue()).toBe("183.848 mm");
		await forward.fill("21 cm");
		await forward.press("Enter");
		await page.locator("#craft-3d-numbers > summary").click();
		const places = page.getByRole("region", { name: /^Places from the airframe's reference point/ });
		await expect
			.poll(async () => await places.getByRole("row", { name: /front right/ }).textContent())
			.toContain("210");
		await expect.poll(async () => await mixer.textContent()).not.toBe(before);
		expect(await rotors.first().getByRole("button", { name: "Take it out" }).isDisabled()).toBe(true);
		await motors.getByRole("button", { name: "Add a rotor" }).click();
		await expect.poll(() => rotors.count()).toBe(5);
		await motors.getByText("5 of 4 to 8").waitFor();
		await context.close();
	});
	it("begins a parts list for a craft of seven numbers, from what is assumed", async () => {
		const { page, context } = await openPage();
		for (const [label, text] of [
			["Mass, ready to fly", "1.2 kg"],
			["Hub to hub, across the centre", "400 mm"],
			["Propeller, tip to tip", "9 in"],
			["Most thrust of one motor", "700 g"],
			["Motor lag", "50 ms"],
			["Loop rate of your code", "500 Hz"],
			["Battery cells in series", "4"],
		] as const)
			await page.getByLabel("Your own craft").getByLabel(label).fill(text);
		await page.getByRole("button", { name: "This is my craft" }).click();
		await page.getByRole("button", { name: "Begin a parts list" }).click();
		await page.getByRole("list", { name: "Parts" }).getByText("body and battery").waitFor();
		expect(await comesTo(page, "mass").first().textContent()).toBe("1200 g");
		await context.close();
	});
	it("shows every field that it declares", async () => {
		const { page, context } = await openPage();
		await page.getByLabel("What it comes to").first().waitFor();
		await openAll(page, "details.group");
		for (const { title, sections } of FIELD_GROUPS) {
			await group(page, title).locator(".field-section").first().waitFor();
			const text = (await group(page, title).textContent()) ?? "";
			for (const field of sections.flatMap((each) => each.fields))
				if (
					!(field.unless || field.onlyFor || field.onlyWith) &&
					!["parts", "rotors", "bench", "limb"].includes(field.as)
				)
					expect(text, field.path).toContain(field.label);
		}
		await context.close();
	});
	it.each([
		{ colorScheme: "light", width: 1024 },
		{ colorScheme: "dark", width: 390 },
	] as const)(
		"breaks no rule of WCAG 2.2 AA with everything open: $colorScheme, $width px",
		async (screen) => {
			const { page, context } = await openPage(screen);
			await page.getByText("thrust to weight").first().waitFor();
			await openAll(page, "details.group");
			await page.getByRole("button", { name: "List the rotors one by one" }).click();
			await page.getByRole("button", { name: "Begin a table by hand" }).click();
			await page.getByRole("button", { name: "Write it down, to change: Mixer table" }).click();
			await openAll(page, "details.entry, details.paste");
			await page.waitForFunction(() => document.documentElement.scrollWidth <= innerWidth);
			await page.waitForFunction(() => document.querySelector(".stale") === null);
			await page.evaluate(axe);
			const results = (await page.evaluate(() =>
				(globalThis as unknown as { axe: { run(options: unknown): Promise<unknown> } }).axe.run({
					runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
					resultTypes: ["violations"],
				}),
			)) as AxeResults;
			const found = results.violations.flatMap((each) =>
				each.nodes.map(
					(node) => `${each.id}: ${node.target.join(" ")} ${node.failureSummary?.split("\n")[1] ?? ""}`,
				),
			);
			expect(found).toEqual([]);
			await context.close();
		},
	);
});
