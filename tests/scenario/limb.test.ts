import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { loadDocument } from "../../src/scenario/load.ts";

// biome-ignore lint/suspicious/noExplicitAny: a document that is bent in many places
type Doc = any;
const text = readFileSync(new URL("../../scenarios/sandpiper.json", import.meta.url), "utf8");
const bent = (bend: (doc: Doc) => void) => {
	const doc = JSON.parse(text);
	bend(doc);
	return loadDocument(doc);
};
const problemsOf = (bend: (doc: Doc) => void): string[] => {
	const result = bent(bend);
	return result.ok ? [] : result.errors.map(({ message }) => message);
};
const drill =
	(events: object[], more: object = {}) =>
	(doc: Doc) => {
		doc.drills = [{ name: "x", duration: "9 s", events, ...more }];
	};
const boom = (angle: unknown, more: object = {}) => ({
	kind: "limb",
	at: "1 s",
	link: "boom",
	angle,
	...more,
});
const noLimb = (doc: Doc): void => {
	delete doc.craft.limb;
	for (const each of doc.operatingPoints ?? []) delete each.limb;
};
const point = (limb: unknown) => (doc: Doc) => {
	doc.operatingPoints = [{ name: "x", limb }];
};
/** The boom's hinge below a propeller, so that it swings through the disc. */
const underPropeller = (doc: Doc): void => {
	const [first] = doc.craft.limb.links;
	first.hinge = ["130 mm", "180 mm", "60 mm"];
	first.tip = ["-80 mm", "180 mm", "60 mm"];
	first.axis = "pitch";
	first.travel = ["-180 deg", "180 deg"];
};

describe("a limb in a scenario file", () => {
	it("moves by angle, in a time, and as measured", () => {
		const result = bent(
			drill([
				boom("30 deg"),
				boom("10 deg", { at: "2 s", over: "0.5 s" }),
				{
					kind: "limb",
					at: "4 s",
					link: "boom",
					profile: [
						[0, "10 deg"],
						["0.5 s", "20 deg"],
						["1 s", "25 deg"],
					],
				},
			]),
		);
		if (!result.ok) throw new Error(result.errors.map(({ message }) => message).join("; "));
		const [, second, third] = result.scenario.drills[0]!.events;
		expect(second).toMatchObject({ kind: "limb", link: 0, overSec: 0.5 });
		const rad = Math.PI / 180;
		expect(third).toMatchObject({
			profile: [
				[0, 10 * rad],
				[0.5, 20 * rad],
				[1, 25 * rad],
			],
			angleRad: 25 * rad,
		});
	});

	it.each<[string, (doc: Doc) => void, RegExp]>([
		[
			"unknown part",
			(d) => {
				d.craft.limb.links[0].parts = ["nothing"];
			},
			/craft\.limb\.links\[0\]\.parts\[0\].*nothing.*a name from craft\.parts/,
		],
		[
			"part of two links",
			(d) => {
				d.craft.limb.links[1].parts = d.craft.limb.links[0].parts;
			},
			/craft\.limb\.links\[1\]\.parts\[0\].*limb: boom.*it already moves with 'boom'/,
		],
		[
			"two links of one name",
			(d) => {
				d.craft.limb.links[1].name = "boom";
			},
			/craft\.limb\.links\[1\]\.name.*boom.*no other link/,
		],
		[
			"travel without folded",
			(d) => {
				d.craft.limb.links[0].travel = ["10 deg", "90 deg"];
			},
			/craft\.limb\.links\[0\]\.travel\[0\].*10 deg/,
		],
		[
			"play without stiffness",
			(d) => {
				d.craft.limb.links[0].servo.play = "1 deg";
			},
			/craft\.limb\.links\[0\]\.servo\.play.*a stiffness beside it/,
		],
		[
			"axis of no direction",
			(d) => {
				d.craft.limb.links[0].axis = [0, 0, 0];
			},
			/craft\.limb\.links\[0\]\.axis.*a direction/,
		],
		[
			"folded in a propeller",
			(d) => {
				d.craft.limb.gripRadius = "200 mm";
			},
			/craft\.limb.*folded, a pose that stays 10 mm clear of every propeller; here 'grip' comes within/,
		],
		[
			"tether with liquid",
			(d) => {
				Object.assign(d.craft.load, {
					tether: { length: "300 mm" },
					liquid: { share: 0.3, pendulum: "50 mm" },
				});
			},
			/craft\.load\.liquid.*not both/,
		],
		[
			"half a tank",
			(d) => {
				d.craft.load.liquid = { diameter: "80 mm" };
			},
			/craft\.load\.liquid.*diameter and depth/,
		],
		["too few angles", point(["30 deg"]), /operatingPoints\[0\]\.limb.*2 angles, one per hinge: boom, scoop/],
		[
			"a pose beyond travel",
			point(["190 deg", 0]),
			/operatingPoints\[0\]\.limb\[0\].*within the travel of 'boom', 0 deg to 180 deg/,
		],
		[
			"a pose without a limb",
			(d) => {
				noLimb(d);
				point(["30 deg"])(d);
				d.drills = [];
			},
			/operatingPoints\[0\]\.limb.*a craft with a limb/,
		],
		[
			"a pose in a propeller",
			(d) => {
				underPropeller(d);
				d.drills = [];
				point(["-90 deg", 0])(d);
			},
			/operatingPoints\[0\]\.limb.*10 mm clear of every propeller/,
		],
		[
			"an unknown link",
			drill([{ kind: "limb", at: 1, link: "elbow", angle: 0 }]),
			/drills\[0\]\.events\[0\]\.link.*elbow.*boom, scoop/,
		],
		[
			"a drilled angle beyond travel",
			drill([boom("190 deg")]),
			/drills\[0\]\.events\[0\]\.angle.*190 deg.*within the travel of 'boom'/,
		],
		[
			"neither angle nor profile",
			drill([boom(undefined)]),
			/drills\[0\]\.events\[0\]\.angle.*or a measured profile/,
		],
		[
			"angle and profile",
			drill([
				boom(0, {
					profile: [
						[0, 0],
						[1, 1],
					],
				}),
			]),
			/drills\[0\]\.events\[0\]\.profile.*not both/,
		],
		[
			"a profile that starts elsewhere",
			drill([
				boom(undefined, {
					profile: [
						[0, "20 deg"],
						[1, "30 deg"],
					],
				}),
			]),
			/drills\[0\]\.events\[0\]\.profile\[0\].*20 deg.*where 'boom' stands then/,
		],
		[
			"a profile that goes back in time",
			drill([
				boom(undefined, {
					profile: [
						[0, 0],
						["1 s", 0.1],
						["1 s", 0.2],
					],
				}),
			]),
			/drills\[0\]\.events\[0\]\.profile\[2\].*a time after 1 s/,
		],
		[
			"a drilled pose in a propeller",
			(d) => {
				underPropeller(d);
				d.operatingPoints = [];
				drill([boom("-100 deg")])(d);
			},
			/drills\[0\]\.events\[0\]\.angle.*10 mm clear of every propeller; '.*' comes within .* disc at \d\.\d\d s/,
		],
		[
			"a way through a propeller",
			(d) => {
				underPropeller(d);
				d.operatingPoints = [];
				drill([boom("-180 deg")])(d);
			},
			/drills\[0\]\.events\[0\]\.angle.*-180 deg.*10 mm clear of every propeller/,
		],
		[
			"a limb on a rig",
			drill([boom("30 deg")], { rig: { kind: "pivot", axis: "roll", through: [0, 0, 0] } }),
			/drills\[0\]\.events\[0\]\.kind.*without a rig/,
		],
		[
			"a limb on a rig",
			drill([boom("30 deg")], { rig: { kind: "pivot", axis: "roll", through: [0, 0, 0] } }),
			/drills\[0\]\.events\[0\]\.kind.*without a rig/,
		],
		[
			"a load from the ground on a rig",
			drill([{ kind: "takeUp", at: 1, from: "ground" }], {
				rig: { kind: "pivot", axis: "roll", through: [0, 0, 0] },
			}),
			/drills\[0\]\.events\[0\]\.from.*"rest" on a rig/,
		],
		[
			"a load from the ground too far below a standing craft's folded grip",
			drill(
				[
					boom(0, { at: 0 }),
					boom(0, { at: 0, link: "scoop" }),
					{ kind: "takeUp", at: "2 s", held: "grip", from: "ground" },
				],
				{ start: "ground" },
			),
			/drills\[0\]\.events\[2\]\.from: "ground", expected .*within 40 mm.*with the feet at 0 m it is held 47\.5 mm too high/,
		],
		[
			"a load from the ground, hovering too high",
			drill(
				[
					{ kind: "height", at: 0, height: "300 mm", by: "law" },
					boom("90 deg", { at: 0 }),
					boom("-90 deg", { at: 0, link: "scoop" }),
					{ kind: "takeUp", at: "6 s", held: "grip", from: "ground" },
				],
				{ height: "1 m" },
			),
			/drills\[0\]\.events\[3\]\.from.*with the feet at 300 mm it is held 137\.5 mm too high/,
		],
		[
			"a grip without a limb",
			(d) => {
				noLimb(d);
				drill([{ kind: "takeUp", at: 1, held: "grip" }])(d);
			},
			/drills\[0\]\.events\[0\]\.held.*grip.*a craft with a limb/,
		],
		[
			"a stuck grip without a limb",
			(d) => {
				noLimb(d);
				drill([{ kind: "stuckGrip", at: 1, duration: 1 }])(d);
			},
			/drills\[0\]\.events\[0\]\.kind.*a craft with a limb/,
		],
	])("names what is wrong: %s", (_, bend, expected) => {
		expect(problemsOf(bend).join("\n")).toMatch(expected);
	});
});
