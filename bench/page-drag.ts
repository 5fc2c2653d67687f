import type { Page } from "playwright-core";

/** From one move of the pointer until a picture shows what came of it, milliseconds. */
export interface MoveTimes {
	/** The latency line, its margins and phase; Bode and Nyquist rest until the drag ends. */
	readonly linear: number;
	/** The flown step. */
	readonly flown: number;
}

interface Drawn {
	firstCurveAt?: number;
	/** When each picture was last drawn anew, by the page's clock. */
	drawnAt: { [picture: string]: number };
	movedAt: number;
}

/** Runs in the page before its own scripts: notes when pictures are drawn, by looking at what is drawn. */
export function watchDrawing(): void {
	const page = globalThis as unknown as Drawn;
	page.drawnAt = {};
	page.movedAt = 0;
	const note = (picture: string): void => {
		page.drawnAt[picture] = performance.now();
	};
	const stroke = CanvasRenderingContext2D.prototype.stroke;
	CanvasRenderingContext2D.prototype.stroke = function (this: CanvasRenderingContext2D, path?: Path2D) {
		if (path && this.canvas.closest(".plot")) {
			page.firstCurveAt ??= performance.now();
			note("flown");
		}
		return path ? stroke.call(this, path) : (stroke as () => void).call(this);
	} as typeof stroke;
	new MutationObserver((changes) => {
		if (
			page.firstCurveAt === undefined &&
			document.querySelector(".picture svg g[clip-path] path[fill='none']")
		)
			page.firstCurveAt = performance.now();
		for (const { target } of changes) {
			const element = target instanceof Element ? target : target.parentElement;
			if (element?.closest(".latency data")) note("latency");
		}
	}).observe(document, { childList: true, subtree: true, attributes: true, attributeFilter: ["d", "value"] });
	addEventListener(
		"pointermove",
		() => {
			page.movedAt = performance.now();
		},
		{ capture: true },
	);
}

/** Drags kp on its wire, the proof open; one move at a time, each until every picture that follows a drag has. */
export async function dragMoves(page: Page, moves: number): Promise<MoveTimes[]> {
	await page.getByRole("button", { name: "Show the proof" }).click();
	await page.locator(".scatterlayer path.js-line").first().waitFor();
	await page.locator(".plot canvas").first().waitFor();
	const handle = page.locator(".wiring.wide .on-wire label", { hasText: /^kp$/ });
	await handle.evaluate((element) => element.scrollIntoView({ block: "center" }));
	const box = (await handle.boundingBox())!;
	const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
	await page.mouse.move(x, y);
	await page.mouse.down();
	const times: MoveTimes[] = [];
	for (let i = 1; i <= moves + 3; i++) {
		await page.mouse.move(x + 6 * i, y);
		await page.waitForFunction(() => {
			const { drawnAt, movedAt } = globalThis as unknown as Drawn;
			return (
				["latency", "flown"].every((each) => (drawnAt[each] ?? 0) > movedAt) &&
				document.querySelector(".latency[aria-busy=true]") === null
			);
		});
		const found = await page.evaluate(() => {
			const { drawnAt, movedAt } = globalThis as unknown as Drawn;
			return { linear: drawnAt["latency"]! - movedAt, flown: drawnAt["flown"]! - movedAt };
		});
		// The first few bring the ghost of before and warm the workers up.
		if (i > 3) times.push(found);
	}
	await page.mouse.up();
	return times;
}
