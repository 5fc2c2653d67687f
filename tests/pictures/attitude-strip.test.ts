import { describe, expect, it } from "vitest";
import { attitudeStrip, type StripFlight } from "../../src/pictures/attitude-strip.ts";
import type { Mark, SilhouetteView } from "../../src/pictures/picture.ts";
import { silhouetteSvg } from "../../src/pictures/silhouette-svg.ts";
import { THEMES } from "../../src/pictures/theme.ts";

const time = Float64Array.from({ length: 101 }, (_, k) => k / 100);
const flight: StripFlight = {
	letter: "A",
	name: "first",
	timeSec: time,
	rollRad: time.map((t) => 0.5 * t),
	pitchRad: time.map((t) => -0.2 * t),
	yawRad: time,
	rollAskedRad: time.map(() => 0.1),
	pitchAskedRad: time.map(() => 0),
	heightM: time.map((t) => t),
	busiestCommand: time.map((t) => (t < 0.5 ? 0 : 0.4)),
};
const strip = (change: Partial<Parameters<typeof attitudeStrip>[0]> = {}) =>
	attitudeStrip({
		title: "t",
		invented: false,
		flights: [flight],
		views: ["behind", "right"],
		timeRange: null,
		events: [],
		count: 11,
		...change,
	});
type Silhouette = Extract<Mark, { readonly kind: "silhouette" }>;
const drawn = (picture: ReturnType<typeof strip>, row: number): Silhouette[] =>
	picture.panels[row]!.marks.filter((mark): mark is Silhouette => mark.kind === "silhouette");

describe("attitudeStrip", () => {
	it("stands at even instants, at the craft's height, turned by its angle, dotted by what was asked", () => {
		const roll = drawn(strip(), 0);
		expect(roll.map((mark) => mark.x)).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1]);
		expect(roll[4]).toMatchObject({ y: 0.4, angleRad: 0.2, askedRad: 0.1, live: false, text: "11\u00b0" });
		expect(roll[5]!.live).toBe(true);
		expect(drawn(strip(), 1)[10]).toMatchObject({ angleRad: -0.2, text: "\u221211\u00b0" });
	});
	it("shows how a flight ended that was shorter than the time axis", () => {
		const marks = drawn(strip({ timeRange: [0, 5], count: 6 }), 0);
		expect(marks.map((mark) => mark.x)).toEqual([0, 1]);
		const between = drawn(strip({ timeRange: [0, 7], count: 11 }), 0);
		expect(between.map((mark) => mark.x)).toEqual([0, 0.7]);
		const late = drawn(strip({ timeRange: [0, 6], count: 11 }), 0);
		expect(late.map((mark) => mark.x)).toEqual([0, 0.6, 1]);
	});
	it("draws nothing for no flight, and no broken number", () => {
		expect(strip({ flights: [] }).panels).toHaveLength(0);
		expect(strip({ flights: [{ ...flight, timeSec: [] }] }).panels).toHaveLength(0);
	});
});

describe("silhouetteSvg", () => {
	const turn = (view: SilhouetteView): number => {
		const mark = { ...drawn(strip(), 0)[0]!, view, angleRad: Math.PI / 6, askedRad: null };
		return Number(/rotate\((-?[\d.]+)\)/.exec(silhouetteSvg(mark, 0, 0, THEMES.light))![1]);
	};
	// SVG turns clockwise for positive angles.
	it("turns right side down clockwise from behind, nose up counter-clockwise from the right, heading clockwise from above", () => {
		expect(turn("behind")).toBe(30);
		expect(turn("right")).toBe(-30);
		expect(turn("above")).toBe(30);
	});
});
