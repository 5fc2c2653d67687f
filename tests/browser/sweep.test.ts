import { readFileSync } from "node:fs";
import type { Page, Worker } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";
import { goTo } from "./reading.ts";

afterAll(closeBrowser);

const DEMO = JSON.parse(readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8"));
/** Little more than a second of a step: a plane of them is soon full. */
const SHORT = {
	...DEMO,
	name: "short drill",
	drills: [{ ...DEMO.drills[0], name: "short step", duration: "1.2 s" }],
};

/** What a worker may die of: it is closed without a word, or an error that nothing in it catches. */
const DEATHS = {
	close: () => self.close(),
	error: () => {
		setTimeout(() => {
			throw new Error("no memory left");
		});
	},
} as const;

async function end(worker: Worker, death: keyof typeof DEATHS): Promise<void> {
	const gone = worker.waitForEvent("close");
	// A worker that closes may not come to answer.
	worker.evaluate(DEATHS[death]).catch(() => {});
	await gone;
}

/** Opens a plane of flights that is being worked out. */
async function beginPlane() {
	const opened = await openPage();
	const { page } = opened;
	await page.getByLabel("Scenario file").setInputFiles({
		name: "short.json",
		mimeType: "application/json",
		buffer: Buffer.from(JSON.stringify(SHORT)),
	});
	await page.getByRole("heading", { name: "short drill", exact: true }).waitFor();
	await goTo(page, "Gains");
	await page.getByText(/^[1-9]\d* of \d+ cells, each the worst/).waitFor();
	await page.getByLabel("Shaded by").selectOption("iaeDegSec");
	await page.getByText(/ cells( are worked out)?, each a flight of drill 'short step'/).waitFor();
	return opened;
}

/** Every cell of the finished plane, at full precision. */
async function savedPlane(page: Page): Promise<string> {
	await page.getByText(/^\d+ cells, each a flight/).waitFor({ timeout: 100_000 });
	const coming = page.waitForEvent("download");
	await page
		.getByRole("region", { name: "The gain plane" })
		.getByRole("button", { name: "CSV", exact: true })
		.click();
	return readFileSync(await (await coming).path(), "utf8");
}

describe("a sweep", () => {
	let undisturbed = "";
	beforeAll(async () => {
		const { page, context } = await beginPlane();
		undisturbed = await savedPlane(page);
		expect(undisturbed.split("\r\n").length).toBeGreaterThan(25 * 25);
		await context.close();
	});
	it.each(["close", "error"] as const)(
		"is complete and the same to the last digit though every worker dies in the middle of it: %s",
		async (death) => {
			const { page, context, troubles } = await beginPlane();
			const victims = page.workers();
			let replaced = 0;
			page.on("worker", () => replaced++);
			await Promise.all(victims.map((worker) => end(worker, death)));
			expect(await savedPlane(page)).toBe(undisturbed);
			expect(victims.length).toBeGreaterThanOrEqual(2);
			// Another is started only where work was left to do.
			expect(replaced).toBeGreaterThanOrEqual(1);
			expect(troubles.filter((each) => !each.includes("no memory left"))).toEqual([]);
			await context.close();
		},
	);
	it("is the same after it was cancelled and gone on with", async () => {
		const { page, context } = await beginPlane();
		await page.getByRole("button", { name: "Cancel the plane" }).click();
		await page.getByText(/^Cancelled: \d+ of \d+ cells/).waitFor();
		await page.getByRole("button", { name: "Go on with it" }).click();
		expect(await savedPlane(page)).toBe(undisturbed);
		await context.close();
	});
});
