import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { fly } from "../../src/flight/engine.ts";
import { flightNumbers } from "../../src/report/flight-numbers.ts";
import { flightJson } from "../../src/report/fly-json.ts";
import { loadScenario } from "../../src/scenario/load.ts";

const loaded = loadScenario(readFileSync("scenarios/wren.json", "utf8"));
if (!loaded.ok) throw new Error(loaded.errors[0]?.message);
const { craft, gainSets, operatingPoints, drills } = loaded.scenario;
const gainSet = gainSets[0]!;
const { point } = operatingPoints[0]!;
const drill = drills.find((each) => each.name === "roll step")!;
const flight = fly({ craft, point, gainSet, drill });
const json = flightJson(flight, craft, point, drill, gainSet);
const flights = [{ letter: "A", json }];

test("one axis: its metrics as they stand in the flight's JSON, with the reason where there is none", () => {
	const found = new Map(flightNumbers(flights, "roll").map((each) => [each.what, each]));
	const { roll } = json.metrics;
	if (!("iaeDegSec" in roll)) throw new Error("expected an angle");
	expect(found.get("roll overshoot")!.value).toBe(roll.overshootPct);
	expect(found.get("roll rise")).toMatchObject({ of: "A", value: roll.riseTimeMs, unit: "ms" });
	expect(found.get("roll IAE")).toMatchObject({ value: roll.iaeDegSec, unit: "deg s" });
	expect(found.get("roll error at the end")).toMatchObject({ value: roll.steadyStateErrorDeg, unit: "deg" });
	expect(found.get("flown for")).toMatchObject({ value: json.timeSec, where: "to the end" });
	const missing = [...found.values()].filter((each) => each.value === null);
	expect(missing.length).toBeGreaterThan(0);
	for (const each of missing) expect(each.where).not.toBe("");
});

test("all axes: yaw in its own unit, motors and battery too, set beside set", () => {
	const all = flightNumbers([...flights, { letter: "B", json }], null);
	expect(all.filter(({ of }) => of === "B").length).toBe(all.length / 2);
	const found = new Map(all.map((each) => [each.what, each]));
	expect(found.get("yaw most off")).toMatchObject({
		value: json.metrics.yaw.peakDeviationDegPerSec,
		unit: "deg/s",
	});
	expect(found.get("least battery voltage")!.value).toBe(json.actuators.leastBatteryV);
	expect(found.get("a motor at its end")!.value).toBe(json.actuators.saturatedPct);
});
