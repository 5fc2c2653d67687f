import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

afterAll(closeBrowser);

/** WCAG 2.2 A and AA, as far as axe can see. */
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

const PLACES = [
	{ place: "Craft", ready: "thrust to weight" },
	{ place: "Gains", ready: "Crossover at" },
	{ place: "Proof", ready: "least phase margin" },
	{ place: "Field", ready: "At a glance" },
];

describe.each([
	{ colorScheme: "light", width: 1440 },
	{ colorScheme: "dark", width: 1024 },
	{ colorScheme: "light", width: 390 },
	{ colorScheme: "dark", width: 390 },
] as const)("$colorScheme at $width px", ({ colorScheme, width }) => {
	it("breaks no rule of WCAG 2.2 AA on any place and needs no sideways scrolling", async () => {
		const { page, context } = await openPage({ colorScheme, width });
		for (const { place, ready } of PLACES) {
			await page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: place }).click();
			await page.getByText(ready).first().waitFor();
			// Pictures take their width from the window once they are laid out.
			await page.waitForFunction(() => document.documentElement.scrollWidth <= innerWidth, undefined, {
				timeout: 10_000,
			});
			await page.evaluate(axe);
			const results = (await page.evaluate(
				(tags) =>
					(globalThis as unknown as { axe: { run(options: unknown): Promise<unknown> } }).axe.run({
						runOnly: { type: "tag", values: tags },
						resultTypes: ["violations"],
					}),
				RULES,
			)) as AxeResults;
			const found = results.violations.flatMap((each) =>
				each.nodes.map(
					(node) =>
						`${place} ${each.id}: ${node.target.join(" ")} ${node.failureSummary?.split("\n")[1] ?? ""}`,
				),
			);
			expect(found).toEqual([]);
		}
		await context.close();
	});
});
