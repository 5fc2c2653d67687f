import { describe, expect, it } from "vitest";
import { type DrawnFlight, stripPicture, stripValues } from "../../src/pictures/flight-pictures.ts";
import { timeTraces } from "../../src/pictures/time-traces.ts";
import { fixed, valueAt, valuesAt } from "../../src/pictures/values-at.ts";

/** Held still at 0.1 rad of roll, 1 m up, 0.2 rad asked for, so many seconds. */
function flightOf(letter: string, sec: number): DrawnFlight {
	const time = Float64Array.from({ length: 500 * sec + 1 }, (_, i) => i / 500);
	const held = (value: number) => time.map(() => value);
	const columns = {
		time,
		roll: held(0.1),
		pitch: held(0),
		yaw: held(0),
		rollSetPoint: held(0.2),
		pitchSetPoint: held(0),
		down: held(-1),
		command0: held(0.5),
	};
	return {
		letter,
		name: `set ${letter}`,
		flight: {
			status: "completed",
			timeSec: sec,
			reason: "",
			trace: { length: time.length, columns },
			notes: [],
			outsideModel: [],
			counters: { steps: 0, ticks: 0, events: 0 },
			seed: 1,
		},
	};
}

describe("valueAt", () => {
	const xs = [0, 1, 1, 4];
	const ys = [2, 4, 10, 1];
	it("is on the straight line between points, the later value at a jump, and none beyond the ends", () => {
		expect(valueAt(xs, ys, 0)).toBe(2);
		expect(valueAt(xs, ys, 0.25)).toBe(2.5);
		expect(valueAt(xs, ys, 1)).toBe(10);
		expect(valueAt(xs, ys, 2.5)).toBe(5.5);
		expect(valueAt(xs, ys, 4)).toBe(1);
		expect(valueAt(xs, ys, 4.1)).toBeNull();
		expect(valueAt(xs, ys, -0.1)).toBeNull();
		expect(valueAt([], [], 0)).toBeNull();
		expect(valueAt([3], [5], 3)).toBe(5);
		expect(valueAt([0, 1], [Number.NaN, 1], 0.5)).toBeNull();
	});
	it("gives back every point of a long series", () => {
		const long = Float64Array.from({ length: 3001 }, (_, i) => i * 0.001);
		const sine = long.map((t) => Math.sin(t));
		for (let i = 0; i < long.length; i += 7) expect(valueAt(long, sine, long[i]!)).toBeCloseTo(sine[i]!, 12);
		// Between points a straight line is off by at most h^2 / 8.
		expect(Math.abs(valueAt(long, sine, 1.2345)! - Math.sin(1.2345))).toBeLessThan(1.3e-7);
	});
});

describe("valuesAt", () => {
	const picture = timeTraces({
		title: "t",
		invented: false,
		events: [],
		panels: [
			{
				label: "roll",
				unit: "deg",
				lines: [
					{ letter: "", name: "asked for", timeSec: [0, 2], values: [0, 10] },
					{ letter: "B", name: "set B", timeSec: [0, 1], values: [0, -0.004] },
				],
			},
		],
	});
	it("names curves as the picture does, with decimals that suit the panel", () => {
		expect(valuesAt(picture.panels[0]!, 0.5)).toEqual([
			{ of: "asked for", text: "2.50" },
			{ of: "B", text: "0.00" },
		]);
		expect(valuesAt(picture.panels[0]!, 1.5)[1]).toEqual({ of: "B", text: "-" });
	});
	it("writes numbers of one width, without a minus before nothing", () => {
		expect([fixed(-1.25, 1), fixed(-0.004, 2), fixed(3, 2)]).toEqual(["\u22121.3", "0.00", "3.00"]);
	});
});

describe("stripValues", () => {
	it("goes row by row as the strip is drawn, at any instant", () => {
		const flights = [flightOf("A", 3), flightOf("B", 2)];
		const picture = stripPicture({ title: "t", invented: false }, flights);
		const values = stripValues(flights)(1.0005);
		expect(values.length).toBe(picture.panels.length);
		expect(values[0]).toEqual([
			{ of: "A", text: "5.7\u00b0" },
			{ of: "asked for", text: "11.5\u00b0" },
			{ of: "height", text: "1.00 m" },
		]);
		expect(stripValues(flights)(2.5)[2]![0]).toEqual({ of: "B", text: "-\u00b0" });
	});
});
