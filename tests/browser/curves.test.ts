import type { Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";
import { goTo } from "./reading.ts";

afterAll(closeBrowser);

/** What is drawn in one panel of one picture. */
interface DrawnPanel {
	readonly picture: string;
	readonly how: "svg" | "canvas" | "plotly";
	/** At full strength, a gain set each. */
	readonly sets: number;
	/** Behind them: what was asked for, gains that are only looked at, the answer before a drag. */
	readonly asked: number;
	readonly faint: number;
	/** Corners: the band, and the one that strays furthest. */
	readonly bands: number;
	readonly worst: number;
	/** The same set drawn twice would be two axes in one panel. */
	readonly twice: boolean;
}

/** The canvas library strokes each curve as a path object of its own; grid and axes it strokes without one. */
const WATCH_CANVAS = (): void => {
	const stroke = CanvasRenderingContext2D.prototype.stroke;
	const clear = CanvasRenderingContext2D.prototype.clearRect;
	const strokes = new WeakMap<HTMLCanvasElement, string[]>();
	Object.assign(globalThis, { strokes });
	CanvasRenderingContext2D.prototype.stroke = function (this: CanvasRenderingContext2D, path?: Path2D) {
		if (path)
			strokes
				.get(this.canvas)
				?.push(
					[this.globalAlpha < 1 ? "faint" : "full", this.strokeStyle, this.getLineDash().join(" ")].join(" "),
				);
		return path ? stroke.call(this, path) : (stroke as () => void).call(this);
	} as typeof stroke;
	CanvasRenderingContext2D.prototype.clearRect = function (...box) {
		strokes.set(this.canvas, []);
		clear.apply(this, box);
	};
};

/** Every picture in the page as it stands, panel by panel, counted from what is drawn and not from what was meant. */
const drawnPanels = (page: Page): Promise<DrawnPanel[]> =>
	page.evaluate(() => {
		const count = (
			picture: string,
			how: DrawnPanel["how"],
			curves: readonly { name: string; kind: "set" | "asked" | "faint" | "worst" }[],
			bands: number,
		): DrawnPanel => {
			const of = (kind: string): number => curves.filter((each) => each.kind === kind).length;
			const names = curves.filter((each) => each.kind === "set").map((each) => each.name);
			return {
				picture,
				how,
				sets: of("set"),
				asked: of("asked"),
				faint: of("faint"),
				worst: of("worst"),
				bands,
				twice: new Set(names).size < names.length,
			};
		};
		const kindOf = (name: string, faint: boolean): "set" | "asked" | "faint" | "worst" =>
			faint ? "faint" : name === "asked for" ? "asked" : name.startsWith("worst: ") ? "worst" : "set";
		const panels: DrawnPanel[] = [];
		for (const svg of document.querySelectorAll<SVGSVGElement>('.picture svg[role="img"]')) {
			const title = svg.querySelector(":scope > title")?.textContent ?? "";
			for (const panel of svg.querySelectorAll("g[clip-path]")) {
				const curves = [...panel.querySelectorAll<SVGPathElement>("path[fill='none']")].map((path) => {
					const name = path.querySelector("title")?.textContent ?? "";
					return { name, kind: kindOf(name, path.hasAttribute("stroke-opacity")) };
				});
				panels.push(count(title, "svg", curves, panel.querySelectorAll("path[fill-opacity='0.07']").length));
			}
		}
		const { strokes } = globalThis as unknown as { strokes: WeakMap<HTMLCanvasElement, string[]> };
		for (const canvas of document.querySelectorAll<HTMLCanvasElement>(".plot canvas")) {
			const figure = canvas.closest("figure");
			const curves = (strokes.get(canvas) ?? []).map((each) => {
				const [strength, , ...dash] = each.split(" ");
				const asked = dash.join(" ") !== "" && Number(dash[0]) <= devicePixelRatio * 1.5;
				return { name: each, kind: strength === "faint" ? "faint" : asked ? "asked" : "set" } as const;
			});
			panels.push(count(figure?.querySelector("h3")?.textContent ?? "", "canvas", curves, 0));
		}
		for (const plot of document.querySelectorAll(".plot .cartesianlayer .subplot")) {
			const title = plot.closest("figure")?.querySelector("h3")?.textContent ?? "";
			const curves = [...plot.querySelectorAll<SVGGElement>(".scatterlayer .trace")]
				.filter((trace) => trace.querySelector("path.js-line") !== null)
				.map((trace, i) => {
					const line = trace.querySelector<SVGPathElement>("path.js-line")!;
					const faint = Number(getComputedStyle(trace).opacity) < 1;
					return { name: `${i} ${line.style.stroke}`, kind: faint ? "faint" : "set" } as const;
				});
			panels.push(count(title, "plotly", curves, 0));
		}
		return panels;
	});

const quiet = (page: Page) =>
	page.waitForFunction(() => document.querySelector('main [aria-busy="true"]') === null);

/** At most one axis, two sets at full strength, one corner envelope; what stands behind is faint or dotted. */
function judge(panels: readonly DrawnPanel[], sets: number): void {
	for (const panel of panels) {
		const about = JSON.stringify(panel);
		const isMap = /distance of the worst corner|cells/.test(panel.picture);
		expect(panel.sets, about).toBeLessThanOrEqual(isMap ? 0 : 2);
		expect(panel.asked, about).toBeLessThanOrEqual(1);
		expect(panel.faint, about).toBeLessThanOrEqual(2);
		expect(panel.bands, about).toBeLessThanOrEqual(1);
		expect(panel.worst, about).toBeLessThanOrEqual(panel.bands);
		expect(panel.twice, about).toBe(false);
	}
	// Counting nothing would let everything pass.
	expect(Math.max(...panels.map((each) => each.sets))).toBe(Math.min(2, sets));
}

describe.each([1, 2, 4])("with %i sets switched on", (sets) => {
	it("no picture of any place shows more than two of them, one axis and one envelope", async () => {
		const { page, context, troubles } = await openPage({ beforeLoad: WATCH_CANVAS });
		const shown = page.getByRole("checkbox", { name: "shown" });
		await shown.first().waitFor();
		if (sets > 2)
			await page
				.getByLabel(/^More for set/)
				.first()
				.click();
		for (let i = 2; i < sets; i++)
			await page.getByRole("button", { name: "Copy", exact: true }).first().click();
		for (let i = 0; i < sets; i++) if (await shown.nth(i).isEnabled()) await shown.nth(i).check();
		const on = await page.getByRole("checkbox", { name: "shown", checked: true }).count();
		expect(on).toBe(sets);

		await page.locator(".plot canvas").first().waitFor();
		await quiet(page);
		await expect
			.poll(async () => (await drawnPanels(page)).map((each) => each.sets))
			.toContain(Math.min(2, sets));
		judge(await drawnPanels(page), sets);

		await goTo(page, "Gains");
		await page.getByRole("button", { name: "Show the proof" }).click();
		await page.locator(".plot .scatterlayer path.js-line").first().waitFor();
		await page.getByRole("button", { name: /^Crosshair at kp/ }).press("Enter");
		await page
			.getByText(/^looked at: kp/)
			.first()
			.waitFor();
		const withGhost = await drawnPanels(page);
		judge(withGhost, sets);
		expect(new Set(withGhost.map((each) => each.how))).toEqual(new Set(["canvas", "plotly"]));
		expect(withGhost.some((each) => each.faint === 1)).toBe(true);
		await page.keyboard.press("Escape");
		await page.getByRole("button", { name: "A step in every corner" }).click();
		await page.getByText(/^(\d+) of \1 corners flown/).waitFor({ timeout: 60_000 });
		const corners = await drawnPanels(page);
		judge(corners, sets);
		const band = corners.find((each) => each.bands === 1 && each.how === "svg")!;
		expect(band).toMatchObject({ sets: 1, worst: 1, faint: 0 });

		await goTo(page, "Proof");
		await page.getByText("least phase margin").first().waitFor();
		await quiet(page);
		const proof = await drawnPanels(page);
		judge(proof, sets);
		expect(proof.length).toBeGreaterThanOrEqual(4);
		await goTo(page, "Field");
		await page.getByText("At a glance").waitFor();
		expect(await drawnPanels(page)).toEqual([]);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
