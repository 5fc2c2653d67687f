import { describe, expect, it } from "vitest";
import type { Picture } from "../../src/pictures/picture.ts";
import { pictureSvg } from "../../src/pictures/svg.ts";
import { SAMPLES } from "./samples.ts";
import { xmlShape } from "./xml-shape.ts";

describe.each(Object.entries(SAMPLES))("%s", (_name, picture) => {
	it.each(["light", "dark"] as const)("is well-formed, finite, titled and repeatable: %s", (theme) => {
		const svg = pictureSvg(picture, { theme });
		const shape = xmlShape(svg);
		expect(shape.get("svg")).toBe(1);
		expect(shape.get("desc")).toBe(1);
		expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
		expect(pictureSvg(picture, { theme })).toBe(svg);
		expect(svg.includes(">Invented craft<")).toBe(picture.invented);
		for (const panel of picture.panels) expect(svg).toContain(panel.y.unit.replace("&", "&amp;"));
	});
});

describe("pictureSvg", () => {
	const step = SAMPLES["step"]!;
	const panel = step.panels[0]!;
	const withValues = (y: number[], x: number[] = y.map((_, k) => k)): Picture => ({
		...step,
		panels: [{ ...panel, series: [{ ...panel.series[0]!, x, y }] }],
	});
	it("escapes what people type", () => {
		const svg = pictureSvg({ ...step, title: `<script>"x" & 'y'</script>\u0000` });
		expect(svg).toContain("&lt;script&gt;&quot;x&quot; &amp; &#39;y&#39;&lt;/script&gt;<");
		xmlShape(svg);
	});
	it("draws nothing, one value, equal values and gaps without a broken number", () => {
		for (const y of [[], [3], [2, 2, 2], [1, Number.NaN, 2, Number.POSITIVE_INFINITY, 3]]) {
			const svg = pictureSvg(withValues(y));
			xmlShape(svg);
			expect(svg).not.toMatch(/NaN|Infinity/);
		}
	});
	it("breaks the line at a gap", () => {
		const svg = pictureSvg(withValues([1, 2, Number.NaN, 2, 1]));
		const line = /<path d="([^"]*)"[^>]*><title>/.exec(svg)![1]!;
		expect(line.match(/M/g)).toHaveLength(2);
	});
	it("keeps a single peak of a long series and draws few points a pixel", () => {
		const y = Array.from({ length: 100_000 }, (_, k) => (k === 54_321 ? 1 : 0));
		const svg = pictureSvg(withValues(y));
		const line = /<path d="([^"]*)"[^>]*><title>/.exec(svg)![1]!;
		const heights = [...line.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((m) => Number(m[1]));
		expect(heights.length).toBeLessThan(4 * 700);
		expect(heights.filter((h) => h < Math.max(...heights) - 100)).toHaveLength(1);
	});
	it("takes a width and a height", () =>
		expect(pictureSvg(step, { theme: "dark", widthPx: 390, heightPx: 300 })).toContain(
			'viewBox="0 0 390 300"',
		));
});
