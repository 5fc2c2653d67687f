import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { corners } from "../../src/analysis/corners.ts";
import { type Craft, NOMINAL_POINT } from "../../src/craft/model.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import type { TuneOptions } from "../../src/tuning/result.ts";
import { tune } from "../../src/tuning/tune.ts";
import { sampleCraft } from "../fixtures/craft.ts";

function sandpiper(): Craft {
	const url = new URL("../../scenarios/sandpiper.json", import.meta.url);
	const loaded = loadScenario(readFileSync(url, "utf8"));
	if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
	return loaded.scenario.craft;
}
const craft = sandpiper();
const { attitude } = craft.timing;
if (attitude.kind !== "fused") throw new Error("sandpiper has a fused attitude");
const withAttitude = (change: Partial<typeof attitude>): Craft => ({
	...craft,
	timing: { ...craft.timing, attitude: { ...attitude, ...change } },
});
const twiceAsOften = withAttitude({ clock: { ...attitude.clock, periodUs: attitude.clock.periodUs / 2 } });
const twiceAsFresh = withAttitude({ latencyUs: attitude.latencyUs / 2 });

/** The limb held far out with a heavy load: yaw alone turns the wrong way, so that alone no gains would do after any change. */
const farOut = (massKg: number, limits: TuneOptions["limits"]): TuneOptions => ({
	character: "even",
	limits,
	corners: [{ name: "far out", point: { ...NOMINAL_POINT, limbRad: [2.356, -2.356], load: { massKg } } }],
});
const feasible = (changed: Craft, options: TuneOptions): boolean =>
	tune(changed, { ...options, alternatives: false }).feasible;

test("what gives yaw gains is what does so with roll and pitch held by their own, as tune of the changed craft finds", () => {
	const options = farOut(0.64, { authorityShare: 0.06, delayMarginPeriods: 30, ms: 1.25 });
	const { axes, alternatives } = tune(craft, options);
	expect([axes.roll.feasible, axes.pitch.feasible, axes.yaw.feasible]).toEqual([true, true, false]);
	expect(alternatives).toEqual([
		{
			change: "attitude at 200 Hz instead of 100",
			axis: "yaw",
			gain: null,
			sentence:
				"attitude at 200 Hz instead of 100: every limit can be kept, yaw with roll and pitch held by the gains that they then have",
		},
	]);
	expect(feasible(twiceAsOften, options)).toBe(true);
	expect(feasible(twiceAsFresh, options)).toBe(false);
});

test("where roll and pitch have no gains either, yaw is said not to be judged, and a change must serve all three", () => {
	const options = farOut(0.66, { authorityShare: 0.07, delayMarginPeriods: 50, ms: 1.15 });
	const { axes, alternatives } = tune(craft, options);
	expect(axes.yaw.why).toBe(
		"yaw: not judged, since holding roll and pitch changes its answer by more than 3 %, and roll and pitch have no gains that keep every limit",
	);
	expect(alternatives.map(({ change }) => change)).toEqual(["attitude at 200 Hz instead of 100"]);
	expect(feasible(twiceAsOften, options)).toBe(true);
});

test("corners that are given are seen with half the uncertainty where that is the change, as the craft's own are", () => {
	const { battery, load } = sampleCraft();
	const few = sampleCraft({
		load: { ...load, massKg: 0 },
		battery: { ...battery, nearlyEmpty: battery.full },
		uncertainty: { inertia: 0.15, thrust: 0.1, motorLag: 0 },
	});
	const own = tune(few, { character: "even" }).alternatives;
	const measured = own.find(({ change }) => change.includes("measured twice as well"));
	expect(measured!.gain).toBeGreaterThan(0.05);
	expect(tune(few, { character: "even", corners: corners(few) }).alternatives).toEqual(own);
});

test("yaw that has gains beside loops that have none says beside what it was judged", () => {
	const { axes } = tune(craft, { ...farOut(0.8, { ms: 1.05 }), alternatives: false });
	expect([axes.roll.feasible, axes.pitch.feasible, axes.yaw.feasible]).toEqual([false, false, true]);
	expect(axes.yaw.periodicNote).toBe(
		"yaw: judged beside the gains that come nearest, since holding roll and pitch changes its answer by more than 3 %, and roll and pitch have no gains that keep every limit",
	);
});
