import { describe, expect, test } from "vitest";
import type { LoopJson } from "../../src/report/json/loop.ts";
import { xmlShape } from "../pictures/xml-shape.ts";
import { json, run } from "./run.ts";

const ask = async (line: string) => json(await run(["loop", ...line.split(" "), "--json"])) as LoopJson;

describe("textbook loops by the command line", () => {
	test("3/(s+1)^3 (Astrom and Murray, Feedback Systems, from memory; Ms, Mt, alpha recomputed)", async () => {
		const loop = await ask("--num 3 --den 1,3,3,1");
		expect(loop.gainMarginUpDb).toBeCloseTo(20 * Math.log10(8 / 3), 9);
		expect(loop.phaseMarginDeg).toBeCloseTo(41.690326, 6);
		expect(loop.delayMarginMs).toBeCloseTo(700.13845, 4);
		expect(loop.ms).toBeCloseTo(2.2, 8);
		expect(loop.mt).toBeCloseTo(1.5797959, 6);
		expect(loop.diskMargin!.alpha).toBeCloseTo(0.55205518, 7);
		expect(loop.crossovers).toHaveLength(2);
		expect(loop.crossovers[0]).toMatchObject({ kind: "gain" });
		expect(loop.crossovers[0]!.radPerSec).toBeCloseTo(1.0392708, 6);
		expect(loop.crossovers[1]!.radPerSec).toBeCloseTo(Math.sqrt(3), 9);
	});

	test("0.5 exp(-s)/s (SIMC: Skogestad, J. Process Control 13 (2003))", async () => {
		const loop = await ask("--num 0.5 --den 1,0 --delay 1");
		expect(loop.gainMarginUpDb).toBeCloseTo(20 * Math.log10(Math.PI), 8);
		expect(loop.phaseMarginDeg).toBeCloseTo(61.35211, 5);
	});

	test("2/(s(s+1)(s+2)) held and sampled at 10 ms (python-control's tests, values recomputed)", async () => {
		const loop = await ask("--num 2 --den 1,3,2,0 --sample-time 0.01 --hold zoh");
		expect(loop.gainMarginUpDb).toBeCloseTo(20 * Math.log10(2.9557614), 5);
		expect(loop.phaseMarginDeg).toBeCloseTo(32.398492, 5);
	});

	test("1/(z-1) at 10 ms: gain may double, 60 degrees, one period of delay (exact)", async () => {
		const loop = await ask("--num 1 --den 1,-1 --sample-time 0.01 --discrete");
		expect(loop.gainMarginUpDb).toBeCloseTo(20 * Math.log10(2), 9);
		expect(loop.phaseMarginDeg).toBeCloseTo(60, 9);
		expect(loop.delayMarginMs).toBeCloseTo(10, 9);
	});

	test("100/(s(.1s+1)(.2s+1)) is unstable, its crossings are still given (Gopal, Control Systems 2e, Ex. 8.14)", async () => {
		const loop = await ask("--num 100 --den 0.02,0.3,1,0");
		expect(loop.stable).toBe(false);
		expect(loop.phaseMarginDeg).toBeNull();
		const [phase, gain] = loop.crossovers;
		expect(phase).toMatchObject({ kind: "phase" });
		expect((phase as { marginDb: number }).marginDb).toBeCloseTo(20 * Math.log10(0.15), 8);
		expect((gain as { marginDeg: number }).marginDeg).toBeCloseTo(-40.447715, 5);
	});
});

test.each(["bode", "nyquist"])("--plot-kind %s draws one well-formed picture", async (kind) => {
	const result = await run([
		"loop",
		"--num",
		"3",
		"--den",
		"1,3,3,1",
		"--plot",
		"l.svg",
		"--plot-kind",
		kind,
	]);
	expect(result.code).toBe(0);
	expect(xmlShape(result.files["l.svg"]!).get("path")).toBeGreaterThan(0);
	expect(result.err).toContain(`${kind} picture written to l.svg`);
});

test.each([
	["-3", "unstable: 1 closed-loop pole in the right half plane."],
	["-3 --delay 0.1", "unstable: 1 closed-loop pole in the right half plane."],
	["-3 --sample-time 0.1 --hold zoh", "unstable: 1 closed-loop pole outside the unit circle."],
])("one pole is one: --num %s", async (options, words) => {
	const { out } = await run(["loop", "--den", "1,1", "--num", ...options.split(" ")]);
	expect(out).toContain(words);
});
