import type { Locator, Page } from "playwright-core";

export type PlaceName = "Craft" | "Gains" | "Proof" | "Field";

/** By the path along the top. */
export const goTo = (page: Page, place: PlaceName): Promise<void> =>
	page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: place }).click();

export interface ReadCell {
	readonly text: string;
	/** With all its figures; null where the page shows no number or only its text. */
	readonly exact: number | null;
}

/** A table of the page by its caption: cells by row head and column title. */
export async function readTable(scope: Page | Locator, caption: string): Promise<Map<string, ReadCell[]>> {
	const rows = await scope
		.getByRole("table", { name: caption, exact: true })
		.locator("tbody tr")
		.evaluateAll((list) =>
			list.map((row) =>
				[...row.children].map((cell) => {
					const value = cell.querySelector("data")?.getAttribute("value");
					return { text: cell.textContent ?? "", exact: value ? Number(value) : null };
				}),
			),
		);
	return new Map(rows.map(([head, ...cells]) => [head!.text, cells]));
}

/** Every exact number in a part of the page, in its order. */
export const exactNumbers = (scope: Locator): Promise<number[]> =>
	scope.locator("data").evaluateAll((list) => list.map((each) => Number(each.getAttribute("value"))));
