import { describe, expect, it } from "vitest";
import { benchAnswers, benchProbes, differs } from "../../src/analysis/bench-probes.ts";
import { RIGHT_BUILD, wrongBuilds } from "../../src/analysis/wrong-builds.ts";
import { WRONG_KINDS } from "../../src/analysis/wrong-kinds.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";
import { reportOf, shipped } from "../fixtures/shipped-wrong-builds.ts";
import { wrongBuildLaws } from "../fixtures/wrong-build-laws.ts";

describe.each(["sandpiper", "wren"])("%s", wrongBuildLaws);

describe.each(["sandpiper", "wren"])("the bench of %s", (name) => {
	it("tells every mistake from every other and from the right build", () => {
		const { craft, set } = shipped(name);
		const probes = benchProbes(craft, false);
		const answers = [
			{ kind: RIGHT_BUILD, byEye: "", of: benchAnswers(craft, set, undefined, probes) },
			...WRONG_KINDS.map((kind) => ({
				kind: kind.kind,
				byEye: kind.byEye,
				of: benchAnswers(craft, set, kind.wiring(set, craft, kind.waysOn(craft)[0]!), probes),
			})),
		];
		const same: string[] = [];
		answers.forEach((a, i) => {
			for (const b of answers.slice(i + 1))
				if (a.byEye === b.byEye && !probes.some((_, k) => differs(a.of[k]!, b.of[k]!)))
					same.push(`${a.kind} = ${b.kind}`);
		});
		expect(same).toEqual([]);
		expect(reportOf(name).builds.flatMap((b) => b.alike)).toEqual([]);
	});
});

describe("what the sentences say of sandpiper", () => {
	const build = (kind: string) => reportOf("sandpiper").builds.find((b) => b.kind === kind)!;

	// By hand: right side down must be answered by the right motors, 2 (front right) and 4 (rear right); a gyro with the roll
	// sign wrong speeds up the left ones, 1 (rear left) and 3 (front left).
	it("names the motors that must speed up and those that do", () => {
		expect(build("gyro-sign-roll").bench).toMatch(
			/: motors 2 and 4 \(front right, rear right\) must speed up; with this mistake motors 1 and 3 \(rear left, front left\) do\.$/,
		);
	});

	it("has propellers looked at, unplugged, each fault by its own sign", () => {
		expect(build("propeller-wrong-hand").bench).toMatch(
			/^Battery unplugged, .*lower edge of each blade goes first/,
		);
		expect(build("propeller-upside-down").bench).toMatch(/^Battery unplugged, .*writing looks down/);
	});

	it("drops the corner whose propeller pushes down", () => {
		const { motors, fall } = build("propeller-wrong-hand");
		const place = shipped("sandpiper").craft.rotors.find((r) => r.motorNumber === motors[0])!.place;
		expect(fall.direction).toBe(place.replace(" ", "-"));
		expect(fall.fallSec).toBeLessThan(0.4);
	});

	it("shows a reversed stick by what was asked", () => {
		expect(build("stick-reversed-yaw").first).toMatch(
			/asked for 60 deg\/s clockwise it has \d+\.\d deg\/s counter-clockwise/,
		);
	});
});

describe("what the bench cannot tell", () => {
	it("is said: without integral gains, wrong time units of the integral change nothing", () => {
		const gains = sampleGains();
		const still = { ki: 0, kAngleI: 0 };
		const set = sampleGains({
			roll: { ...gains.roll, ...still },
			pitch: { ...gains.pitch, ...still },
			yaw: { ...gains.yaw, ...still },
		});
		const { builds } = wrongBuilds(sampleCraft(), { ...shipped("sandpiper").point }, set);
		const unseen = builds.filter((b) => b.alike.length > 0);
		expect(unseen.map((b) => b.kind)).toEqual(["integral-per-tick", "integral-period-twice"]);
		for (const b of unseen) {
			expect(b.alike).toContain(RIGHT_BUILD);
			expect(b.bench).toMatch(/^Nothing to see/);
			expect(b.apart).toMatch(
				/^Only reading the code, or the flight's log, tells\. The bench does not tell it from integral-/,
			);
		}
	});
});
