import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import type { CheckJson } from "../../src/report/json/check.ts";
import type { CompareJson } from "../../src/report/json/compare.ts";
import type { FlyJson } from "../../src/report/json/fly.ts";
import type { MarginsJson } from "../../src/report/json/margins.ts";
import type { TuneJson } from "../../src/report/json/tune.ts";
import { run } from "../cli/run.ts";
import { closeBrowser, openPage } from "./open-page.ts";
import { exactNumbers, goTo, type ReadCell, readTable } from "./reading.ts";

afterAll(closeBrowser);

/** Node and Chromium may differ in the last bit of a sine: settled results agree to this, relative. */
const ALIKE = 1e-9;
let worst = { off: 0, what: "nothing" };

/**
 * A number of the command line against the one behind the screen.
 * @param scale of what it is a small remainder of; 0: it stands for itself
 */
function same(page: number | null | undefined, line: number | null, what: string, scale = 0): void {
	if (line === null) {
		expect(page, what).toBe(null);
		return;
	}
	const off = page === line ? 0 : Math.abs(page! - line) / Math.max(scale, Math.abs(line));
	if (off > worst.off) worst = { off, what };
	expect(off, `${what}: page ${page}, command line ${line}`).toBeLessThanOrEqual(ALIKE);
}

function say(about: string): void {
	console.log(`${about}: off by at most ${worst.off.toExponential(1)}, ${worst.what}`);
	worst = { off: 0, what: "nothing" };
}

async function line<T>(...argv: string[]): Promise<T> {
	return JSON.parse((await run([...argv, "--json"])).out) as T;
}

async function open(name: string) {
	const opened = await openPage();
	const { page } = opened;
	await page.getByLabel("Scenario file").setInputFiles({
		name: `${name}.json`,
		mimeType: "application/json",
		buffer: readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url)),
	});
	await page.getByRole("heading", { name, exact: true }).waitFor();
	await settled(page);
	return { ...opened, file: `scenarios/${name}.json` };
}

/** Nothing that is shown belongs to an earlier question. */
const settled = (page: Page): Promise<unknown> =>
	page.waitForFunction(() => document.querySelector('main [aria-busy="true"]') === null);

describe.each([
	{ name: "sandpiper", drills: ["roll step", "hold in turbulence", "lift-off"] },
	{ name: "wren", drills: ["roll step", "side gust"] },
])("the numbers behind the screen of $name", ({ name, drills }) => {
	it("are those of check and margins", async () => {
		const { page, context, file } = await open(name);
		const { hover } = await line<CheckJson>("check", file);
		await page.locator(".tally").waitFor();
		const wanted = [
			100 * hover!.stick,
			hover!.thrustToWeight,
			hover!.enduranceMin,
			hover!.powerW,
			hover!.throttleSlope,
			(hover!.rotorSpeedRadPerSec * 30) / Math.PI,
		];
		// The answer for this file follows the last one's.
		await expect
			.poll(async () => (await exactNumbers(page.locator(".tally")))[0])
			.toBeCloseTo(100 * hover!.stick, 6);
		const shown = await exactNumbers(page.locator(".tally"));
		expect(shown.length).toBe(wanted.length);
		for (const [i, each] of wanted.entries()) same(shown[i], each, `tally ${i}`);

		const { axes } = await line<MarginsJson>("margins", file, "--set", "A");
		await goTo(page, "Gains");
		await page.getByRole("button", { name: "Put the plane away" }).click();
		await page.getByRole("button", { name: "Show the proof" }).click();
		for (const axis of ["roll", "pitch", "yaw"] as const) {
			await page.getByRole("button", { name: axis, exact: true }).click();
			const { rateLoop, phaseLedger } = axes[axis];
			const latency = page.locator(".latency");
			await expect
				.poll(async () => (await exactNumbers(latency.locator("p").first()))[1])
				.toBeCloseTo(rateLoop.phaseMarginDeg!, 6);
			const [crossoverHz, phaseDeg, delayMs] = await exactNumbers(latency.locator("p").first());
			same(crossoverHz, rateLoop.crossoverHz, `${axis} crossover`);
			same(phaseDeg, rateLoop.phaseMarginDeg, `${axis} phase margin`);
			same(delayMs, rateLoop.delayMarginMs, `${axis} delay margin`);
			const ledger = await readTable(
				page,
				"What each element costs at crossover, and what halving it would give back",
			);
			// What is left when all elements are taken from arg L is a difference of large numbers.
			const largest = Math.max(...phaseLedger.map(({ degrees }) => Math.abs(degrees)));
			for (const { element, degrees } of phaseLedger)
				same(ledger.get(element)?.[1]?.exact, degrees, `${axis} ${element}`, largest);
			for (const opened of axis === "yaw"
				? (["rate loop"] as const)
				: (["rate loop", "angle loop", "whole axis"] as const)) {
				const wanted =
					axes[axis][
						({ "rate loop": "rateLoop", "angle loop": "angleLoop", "whole axis": "wholeAxis" } as const)[
							opened
						]
					]!;
				await page.getByRole("button", { name: opened, exact: true }).click();
				await expect
					.poll(
						async () => (await readTable(page, "Margins of the opened loop")).get("phase margin")?.[1]?.exact,
					)
					.toBeCloseTo(wanted.phaseMarginDeg!, 6);
				const rows = await readTable(page, "Margins of the opened loop");
				const at = (what: string): number | null | undefined => rows.get(what)?.[1]?.exact;
				same(at("phase margin"), wanted.phaseMarginDeg, `${axis} ${opened} phase margin`);
				same(at("gain may rise by"), wanted.gainMarginUpDb, `${axis} ${opened} gain up`);
				same(at("gain may fall by"), wanted.gainMarginDownDb, `${axis} ${opened} gain down`);
				same(at("delay margin"), wanted.delayMarginMs, `${axis} ${opened} delay margin`);
				same(at("crossover"), wanted.crossoverHz, `${axis} ${opened} crossover`);
				same(at("largest sensitivity, Ms"), wanted.ms, `${axis} ${opened} Ms`);
			}
		}
		say(`${name}, check and margins`);
		await context.close();
	});
	it("are those of fly and compare, set beside set", async () => {
		const { page, context, file } = await open(name);
		const sets = await page.getByLabel("shown").count();
		for (let i = 1; i < sets; i++) await page.getByLabel("shown").nth(i).check();
		await goTo(page, "Proof");
		const caption = sets > 1 ? "Same flight, same air; differences against A" : "Margins and flight metrics";
		for (const drill of drills) {
			await page.getByLabel("Which drill").selectOption(drill);
			await page.locator("main svg > title", { hasText: `'${drill}'` }).waitFor({ state: "attached" });
			await page.getByRole("table", { name: caption }).waitFor();
			await settled(page);
			const shown = await readTable(page, caption);
			const { metrics, actuators } = await line<FlyJson>("fly", file, "--drill", drill, "--set", "A");
			const { roll } = metrics;
			const flown = {
				"roll overshoot": roll.overshootPct,
				"roll settled after": roll.settlingTimeMs,
				"roll back after": roll.recoveryTimeMs,
				"roll IAE": "iaeDegSec" in roll ? roll.iaeDegSec : roll.iaeDegPerSecSec,
				"motor activity": actuators.activityPct,
				"motors at their end": actuators.saturatedPct,
			};
			const found = Object.entries(flown).filter(([what]) => shown.has(what));
			expect(found.length).toBeGreaterThanOrEqual(2);
			for (const [what, value] of found) same(shown.get(what)?.[1]?.exact, value, `${drill}, ${what}`);
			if (sets < 2) continue;
			const { rows } = await line<CompareJson>("compare", file, "--drill", drill);
			expect([...shown.keys()].sort()).toEqual(rows.map((each) => each.what).sort());
			for (const row of rows)
				for (const [i, cell] of row.cells.entries())
					same(shown.get(row.what)?.[1 + i]?.exact, cell.value, `${drill}, ${row.what} of ${cell.set}`);
		}
		// What is copied for a spreadsheet has all the figures too.
		await context.grantPermissions(["clipboard-read", "clipboard-write"]);
		const figure = page.locator("figure.table", {
			has: page.getByRole("table", { name: caption, exact: true }),
		});
		await figure.getByRole("button", { name: "Copy as CSV" }).click();
		const exact = (await readTable(page, caption)).get("least phase margin")![1]!.exact;
		await expect
			.poll(() => page.evaluate(() => navigator.clipboard.readText()))
			.toContain(`least phase margin,deg,${exact}`);
		say(`${name}, fly and compare`);
		await context.close();
	});
	it("are those of tune", async () => {
		const { page, context, file } = await open(name);
		const found = await line<TuneJson>("tune", file, "--character", "even", "--no-fly", "--no-alternatives");
		await goTo(page, "Gains");
		await page.getByRole("button", { name: "Put the plane away" }).click();
		await page.getByLabel("in the units of your code").uncheck();
		await page.getByRole("button", { name: "even", exact: true }).click();
		const caption = `Gains of character 'even', kept in all ${found.corners.length} corners`;
		await page.getByRole("table", { name: caption }).waitFor({ timeout: 60_000 });
		const shown = await readTable(page, caption);
		for (const axis of ["roll", "pitch", "yaw"] as const) {
			const gains = found.gains[axis]!;
			const cells: readonly ReadCell[] = shown.get(axis)!;
			for (const [i, gain] of (["kAngle", "kp", "ki", "kd"] as const).entries())
				same(cells[i]?.exact, gains[gain], `${axis} ${gain}`);
		}
		say(`${name}, tune`);
		await context.close();
	});
});
