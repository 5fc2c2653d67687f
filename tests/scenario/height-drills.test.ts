import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { loadDocument } from "../../src/scenario/load.ts";

const document = JSON.parse(
	readFileSync(new URL("../fixtures/ten-lines.json", import.meta.url), "utf8"),
) as object;
const loaded = (events?: object[]) =>
	loadDocument({ ...document, ...(events ? { drills: [{ name: "x", duration: "5 s", events }] } : {}) });

describe("height by hand in a scenario file", () => {
	it("reads heights with their units and who keeps them", () => {
		const result = loaded([
			{ kind: "height", at: "1 s", height: "250 cm", by: "pilot" },
			{ kind: "height", at: "2 s", height: 3, by: "law" },
			{ kind: "leaveThrottle", at: "3 s" },
		]);
		expect(result.ok && result.scenario.drills[0]!.events).toEqual([
			{ atSec: 1, kind: "height", heightM: 2.5, by: "pilot" },
			{ atSec: 2, kind: "height", heightM: 3, by: "law" },
			{ atSec: 3, kind: "leaveThrottle" },
		]);
	});
	it.each([
		[{ by: "autopilot" }, "drills[0].events[0].by", /"law" or "pilot"|"law", "pilot"/],
		[{ height: "-1 m" }, "drills[0].events[0].height", /0 m to 100 m/],
		[{ height: "3 kg" }, "drills[0].events[0].height", /length/],
	])("refuses %j", (change, path, sentence) => {
		const result = loaded([{ kind: "height", at: "1 s", height: "2 m", by: "pilot", ...change }]);
		expect(result.ok).toBe(false);
		const error = result.ok ? undefined : result.errors.find((each) => each.path === path);
		expect(error?.message).toMatch(sentence);
	});
	it("gives every craft drills by hand", () => {
		const result = loaded();
		const names = result.ok ? result.scenario.drills.map((drill) => drill.name) : [];
		expect(names).toEqual(expect.arrayContaining(["climb by hand", "hover by hand", "lift-off by hand"]));
	});
});
