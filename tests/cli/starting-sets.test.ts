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

test("tune --save says that a set of the same name gave way to it; the other sets stay", async () => {
	const tune = (...more: string[]) =>
		run(["tune", "sample.json", "--no-fly", "--no-alternatives", "--save", ...more], { files: FILES });
	const replaced = await tune();
	expect(replaced.err).toBe("gain set A, in place of the former set A, written to sample.json\n");
	const added = await tune("--name", "C");
	expect(added.err).toBe("gain set C written to sample.json\n");
	const names = ({ files }: typeof added) => {
		const loaded = loadScenario(files["sample.json"]!);
		return loaded.ok ? loaded.scenario.gainSets.map(({ name }) => name) : [];
	};
	expect(names(replaced)).toEqual(["A", "B"]);
	expect(names(added)).toEqual(["A", "B", "C"]);
});

test("a file that starts with a byte order mark is read, by the threads of a sweep, too", async () => {
	const files = { "marked.json": `\ufeff${FILES["sample.json"]}` };
	for (const argv of [
		["fly", "marked.json"],
		["sweep", "marked.json", "--over", "craft.mass=1.1,1.2", "--workers", "1"],
	]) {
		const { code, err } = await run(argv, { files });
		expect(err).not.toContain("error");
		expect(code).toBe(0);
	}
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
