import { describe, expect, it } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import type { Craft } from "../../src/craft/model.ts";
import { fly } from "../../src/flight/engine.ts";
import { limbNow } from "../../src/report/limb-now.ts";
import { loadDocument } from "../../src/scenario/load.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft, operatingPoints, drills, gainSets } = loaded.scenario;
const point = operatingPoints[0]!.point;
const G = 9.80665;

describe("the limb at an operating point", () => {
	it("folded, holds the weights at their levers", () => {
		const { links } = limbNow(craft, point)!;
		// Weight times lever: 48 g at 105 mm and 82 g at 210 mm behind the hinge of the boom; the scoop below its own.
		expect(links[0]!.torqueNm).toBeCloseTo(-G * (0.048 * 0.105 + 0.082 * 0.21), 6);
		expect(links[1]!.torqueNm).toBeCloseTo(0, 6);
		expect(links[0]!.currentA).toBeCloseTo((1.6 * Math.abs(links[0]!.torqueNm!)) / 2.4, 12);
	});
	it("stretched forward with a load, the grip's lever counts; straight down nothing does", () => {
		const out = limbNow(craft, { ...point, limbRad: [Math.PI, 0], load: "heaviest" })!;
		expect(out.links[0]!.torqueNm).toBeCloseTo(G * (0.048 * 0.105 + (0.082 + 0.3) * 0.21), 6);
		const down = limbNow(craft, { ...point, limbRad: [Math.PI / 2, -Math.PI / 2] })!;
		expect(Math.abs(down.links[0]!.torqueNm!)).toBeLessThan(0.01);
	});
	it("a load on a tether pulls where it is held", () => {
		const tethered: Craft = {
			...craft,
			load: { ...craft.load, tether: { lengthM: 0.7, dampingRatio: 0.01 } },
		};
		const at = { ...point, limbRad: [Math.PI, 0], load: "heaviest" } as const;
		expect(limbNow(tethered, at)!.links[0]!.torqueNm).toBeCloseTo(limbNow(craft, at)!.links[0]!.torqueNm!, 6);
	});
	it("is what the servo gives in a flight before anything moves", () => {
		const drill = {
			...drills.find(({ name }) => name === "swing out")!,
			durationSec: 0.3,
			events: [{ kind: "limb", atSec: 0.29, link: 0, angleRad: 0.1 }] as const,
		};
		const { trace } = fly({ craft, point, gainSet: gainSets[1]!, drill, options: { noise: false } });
		const now = limbNow(craft, point)!.links[0]!.torqueNm!;
		expect(trace.columns["limbTorque0"]![5]).toBeCloseTo(now, 3);
	});
	it("knows no torque where the craft cannot hover", () => {
		const heavy: Craft = { ...craft, load: { ...craft.load, massKg: 30 } };
		const { links } = limbNow(heavy, { ...point, load: "heaviest" })!;
		expect(links.map(({ torqueNm, currentA }) => [torqueNm, currentA])).toEqual([
			[null, null],
			[null, null],
		]);
	});
	it("says the nearest propeller", () => {
		const { clearance } = limbNow(craft, { ...point, limbRad: [0, -Math.PI] })!;
		expect(clearance.of).toBe("scoop");
		expect(clearance.metres).toBeGreaterThan(0.045);
		expect(clearance.metres).toBeLessThan(0.055);
	});
	it("has nothing to say of a craft without a limb", () => {
		const { limb: _, ...none } = craft;
		expect(limbNow(none, point)).toBeNull();
	});
});
