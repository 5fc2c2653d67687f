import { expect, test } from "vitest";
import type { GainsJson } from "../../src/report/json/gains.ts";
import type { TuneJson } from "../../src/report/json/tune.ts";
import { loadScenario } from "../../src/scenario/load.ts";
import { xmlShape } from "../pictures/xml-shape.ts";
import { json, run } from "./run.ts";
import { FILES, sample } from "./sample.ts";

test("tune --save puts the set that it prints into the file; both units agree", async () => {
	const argv = [
		"tune",
		"no-sets.json",
		"--no-fly",
		"--no-alternatives",
		"--name",
		"C",
		"--save",
		"--plot",
		"fan.svg",
		"--json",
	];
	const result = await run(argv, { files: FILES });
	expect(result.code).toBe(0);
	const tuned = json(result) as TuneJson;
	const loaded = loadScenario(result.files["no-sets.json"]!);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	const [set] = loaded.scenario.gainSets;
	expect(set!.name).toBe("C");
	for (const axis of ["roll", "pitch", "yaw"] as const) {
		const gains = tuned.gains[axis] as GainsJson["roll"];
		for (const gain of ["kp", "ki", "kd"] as const) {
			expect(set![axis][gain]).toBe(gains[gain]);
			// us of pulse per deg/s: x 1000 x pi/180 (model.md section 10).
			expect(tuned.firmwareGains![axis][gain]!.value).toBeCloseTo((gains[gain] * 1000 * Math.PI) / 180, 9);
		}
		expect(set![axis].kAngle).toBe(gains.kAngle ?? 0);
	}
	expect(xmlShape(result.files["fan.svg"]!).get("path")).toBeGreaterThan(tuned.corners.length);
});

test("a file without gain sets flies starting gains, and says so", async () => {
	const result = await run(["fly", "bare.json"], {
		files: {
			"bare.json": sample((d) => {
				delete (d as Record<string, unknown>)["gainSets"];
			}),
		},
	});
	expect(result.code).toBe(0);
	expect(result.err).toContain("bare.json has no gain set: finding starting gains of character even");
	expect(result.out).toContain("gain set even");
});
