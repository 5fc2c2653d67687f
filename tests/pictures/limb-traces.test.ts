import { describe, expect, it } from "vitest";
import type { Limb } from "../../src/craft/limb-model.ts";
import type { Craft } from "../../src/craft/model.ts";
import type { FlightResult } from "../../src/flight/result.ts";
import { tracesPicture } from "../../src/pictures/flight-pictures.ts";
import { INK } from "../../src/pictures/looks.ts";

const ALWAYS = [
	"time",
	"roll",
	"rollSetPoint",
	"pitch",
	"pitchSetPoint",
	"yawRate",
	"yawRateSetPoint",
	"command0",
];
const flight = (more: Readonly<Record<string, readonly number[]>>): FlightResult =>
	({
		status: "completed",
		trace: {
			length: 2,
			columns: Object.fromEntries(
				[...ALWAYS.map((name) => [name, [0, 1]] as const), ...Object.entries(more)].map(([name, values]) => [
					name,
					Float64Array.from(values),
				]),
			),
		},
	}) as unknown as FlightResult;
const limb = {
	links: [{ name: "boom", travelRad: [0, Math.PI], servo: { torqueLimitNm: 2.4 } }],
} as unknown as Limb;
const craft = {
	limb,
	supply: { outputV: 5, limitA: 4 },
	battery: { avionicsPowerW: 6 },
} as unknown as Craft;
const head = { title: "t", invented: false };
const drawn = (more: Readonly<Record<string, readonly number[]>>) => ({
	letter: "A",
	name: "set A",
	flight: flight(more),
});
const marksOf = (picture: ReturnType<typeof tracesPicture>, label: string) =>
	picture.panels.find((panel) => panel.y.label === label)!.marks;

describe("traces of a limb", () => {
	const moving = {
		limbAngle0: [0, Math.PI / 2],
		limbTorque0: [-0.2, 0.4],
		limbCurrent0: [0.1, 0.3],
		swing: [0, 0.1],
	};
	it("angle in degrees and torque, each with its limits in sight", () => {
		const picture = tracesPicture(head, [drawn(moving)], craft);
		expect(picture.panels.slice(5).map(({ y }) => `${y.label}, ${y.unit}`)).toEqual([
			"boom from folded, deg",
			"servo of boom, N m",
			"servos together, A",
			"swing of the load, deg",
		]);
		expect([...(picture.panels[5]!.series[0]!.y as Float64Array)]).toEqual([0, 90]);
		expect(marksOf(picture, "boom from folded")).toMatchObject([
			{ kind: "horizontal", y: 0, text: "travel ends at 0°" },
			{ kind: "horizontal", y: 180, text: "travel ends at 180°" },
		]);
		expect(marksOf(picture, "servo of boom")).toMatchObject([
			{ y: 2.4, text: "at most 2.40 N m" },
			{ y: -2.4, text: "" },
		]);
		// 4 A less 6 W at 5 V.
		expect(marksOf(picture, "servos together")).toMatchObject([{ text: "the electronics leave 2.8 A" }]);
	});
	it("none where the limb does not move, and none without the craft's limits but for the swing", () => {
		expect(tracesPicture(head, [drawn({})], craft).panels).toHaveLength(5);
		expect(tracesPicture(head, [drawn(moving)]).panels).toHaveLength(6);
	});
	it("a line takes the look that it is given, in picture and legend", () => {
		const bare = { ...drawn(moving), letter: "", name: "without load", look: INK };
		const picture = tracesPicture(head, [bare, drawn(moving)], craft);
		for (const panel of picture.panels)
			expect(panel.series.find(({ name }) => name === "without load")!.look).toBe(INK);
		expect(picture.legend.map(({ text }) => text)).toEqual(["asked for", "without load", "set A"]);
	});
});
