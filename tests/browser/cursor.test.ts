import type { Locator, Page } from "playwright-core";
import { afterAll, describe, expect, it } from "vitest";
import { closeBrowser, openPage } from "./open-page.ts";

afterAll(closeBrowser);

const goTo = (page: Page, place: string) =>
	page.getByRole("navigation", { name: "Places" }).getByRole("button", { name: place }).click();

async function openProof(options: Parameters<typeof openPage>[0] = {}) {
	// So tall that nothing stands under what sticks to the top.
	const opened = await openPage({ height: 2400, ...options });
	await goTo(opened.page, "Proof");
	const { page } = opened;
	return {
		...opened,
		strip: page.getByRole("slider", { name: "Time cursor, Attitude along time" }),
		traces: page.getByRole("slider", { name: "Time cursor, Drill" }),
		replay: page.getByRole("slider", { name: "Time in the flight" }),
	};
}

const timeOf = async (slider: Locator) => Number(await slider.getAttribute("aria-valuenow"));
const lineAt = async (slider: Locator) => {
	const [line, face] = await Promise.all([slider.locator(".line").boundingBox(), slider.boundingBox()]);
	return (line!.x - face!.x + line!.width / 2) / face!.width;
};

/** How often the replay in 3D has been drawn; waits until it has been. */
async function drawings(page: Page): Promise<number> {
	const host = page.locator(".scene-host[data-drawn]");
	await host.waitFor();
	return Number(await host.getAttribute("data-drawn"));
}

describe("the time cursor", () => {
	it("is one for traces, silhouettes and replay: mouse, press and keys move all of them", async () => {
		const { page, context, troubles, strip, traces, replay } = await openProof();
		await traces.scrollIntoViewIfNeeded();
		const face = (await traces.boundingBox())!;
		const end = Number(await traces.getAttribute("aria-valuemax"));
		expect(end).toBeGreaterThan(1);
		const before = await drawings(page);
		await page.mouse.move(face.x + 0.3 * face.width, face.y + 30);
		await page.mouse.move(face.x + 0.4 * face.width, face.y + 40);
		await expect.poll(() => timeOf(traces)).toBeCloseTo(0.4 * end, 1);
		const pointed = await timeOf(traces);
		await expect.poll(() => timeOf(strip)).toBe(pointed);
		await expect.poll(async () => Number(await replay.inputValue())).toBeCloseTo(pointed, 1);
		await expect.poll(() => drawings(page)).toBeGreaterThan(before);
		// The line of the traces stands under the mouse; the strip has another time axis and its line stands elsewhere.
		expect(await lineAt(traces)).toBeCloseTo(0.4, 2);
		expect(Math.abs((await lineAt(strip)) - 0.4)).toBeGreaterThan(0.005);

		await strip.focus();
		await page.keyboard.press("Home");
		await expect.poll(() => timeOf(traces)).toBe(0);
		await page.keyboard.press("PageUp");
		await page.keyboard.press("Shift+ArrowRight");
		await page.keyboard.press("ArrowLeft");
		await expect.poll(() => timeOf(traces)).toBeCloseTo(0.68, 9);
		await page.getByText("0.68 s", { exact: true }).waitFor();
		await page.keyboard.press("End");
		await expect.poll(() => timeOf(strip)).toBe(end);
		expect(troubles).toEqual([]);
		await context.close();
	});

	it("says what every curve stands at, per set with its letter, and in words to a reader of screens", async () => {
		const { page, context, troubles, traces } = await openProof();
		await page.getByRole("checkbox", { name: /shown/ }).nth(1).check();
		await traces.focus();
		await page.keyboard.press("End");
		await expect
			.poll(() => traces.getAttribute("aria-valuetext"))
			.toMatch(
				/^3\.00 seconds; roll, deg: asked for 10\.00, A \d+\.\d\d, B \d+\.\d\d; pitch, deg: .*; turn rate, deg\/s: .*; busiest motor, %: A .*, B .*; idlest motor, %: A/,
			);
		const panels = page.locator(".traces-sheet .said p");
		expect(await panels.count()).toBe(5);
		const spoken = (await traces.getAttribute("aria-valuetext"))!;
		const shown = await panels.nth(0).locator("> span").allTextContents();
		expect(spoken).toContain(`roll, deg: ${shown.join(", ")};`);
		expect(await page.locator(".strip-sheet .said p").count()).toBe(4);
		expect(await page.locator(".strip-sheet .said p").nth(0).textContent()).toMatch(
			/^A \d+\.\d°asked for 10\.0°height \d+\.\d\d m$/,
		);
		expect(troubles).toEqual([]);
		await context.close();
	});

	it("goes along while the replay plays: only a line moves, nothing is drawn anew, and a step costs little", async () => {
		const { page, context, troubles, strip, traces, replay } = await openProof();
		await page.getByText("Line-up").or(page.getByText("In numbers")).first().waitFor();
		await page.getByRole("img", { name: "The flight in 3D" }).scrollIntoViewIfNeeded();
		const before = await drawings(page);
		await page.evaluate(() => {
			const seen = { redrawn: 0, places: new Set<string>() };
			Object.assign(window, { seen });
			for (const picture of document.querySelectorAll(".followed .picture"))
				new MutationObserver((changes) => {
					seen.redrawn += changes.length;
				}).observe(picture, { childList: true, subtree: true, attributes: true });
			const line = document.querySelector<HTMLElement>(".traces-sheet .line")!;
			new MutationObserver(() => seen.places.add(line.style.transform)).observe(line, {
				attributes: true,
				attributeFilter: ["style"],
			});
		});
		await page.getByLabel("Speed of the replay").selectOption("1/2");
		// The main thread's own time, not that of a busy machine.
		const devtools = await context.newCDPSession(page);
		await devtools.send("Performance.enable", { timeDomain: "threadTicks" });
		const spentSec = async () =>
			(await devtools.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration")!
				.value;
		const spent = await spentSec();
		await page.getByRole("button", { name: "Play" }).click();
		await page.getByRole("button", { name: "Pause" }).waitFor();
		await page.getByRole("button", { name: "Play" }).waitFor();
		const tookSec = (await spentSec()) - spent;
		const seen = await page.evaluate(() => {
			const { redrawn, places } = (window as unknown as { seen: { redrawn: number; places: Set<string> } })
				.seen;
			return { redrawn, places: places.size };
		});
		// Motion is not wanted in these tests: at half speed a step each half second.
		expect(seen.places).toBeGreaterThan(5);
		expect(seen.redrawn).toBe(0);
		expect(await drawings(page)).toBeGreaterThan(before + 5);
		expect(tookSec).toBeGreaterThan(0);
		expect((1000 * tookSec) / seen.places).toBeLessThan(50);
		const end = Number(await traces.getAttribute("aria-valuemax"));
		expect(await timeOf(traces)).toBe(end);
		await expect.poll(() => timeOf(strip)).toBe(end);
		expect(Number(await replay.inputValue())).toBeCloseTo(end, 1);
		expect(await lineAt(traces)).toBeCloseTo(1, 2);
		expect(troubles).toEqual([]);
		await context.close();
	});

	it("is not taken from a replay that plays by a mouse that passes, but by a press", async () => {
		const { page, context, troubles, traces } = await openProof();
		await page.getByLabel("Speed of the replay").selectOption("1/10");
		await page.getByRole("button", { name: "Play" }).click();
		await page.getByRole("button", { name: "Pause" }).waitFor();
		await traces.scrollIntoViewIfNeeded();
		const face = (await traces.boundingBox())!;
		await page.mouse.move(face.x + 0.8 * face.width, face.y + 40);
		await page.mouse.move(face.x + 0.82 * face.width, face.y + 40);
		expect(await page.getByRole("button", { name: "Pause" }).count()).toBe(1);
		expect(await lineAt(traces)).toBeLessThan(0.5);
		await page.mouse.down();
		await page.mouse.up();
		await page.getByRole("button", { name: "Play" }).waitFor();
		expect(await lineAt(traces)).toBeCloseTo(0.82, 2);
		expect(troubles).toEqual([]);
		await context.close();
	});
});
