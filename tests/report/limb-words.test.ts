import { describe, expect, it } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import { limbNow } from "../../src/report/limb-now.ts";
import { loadWords, nearestWords, poseWords, servoWords } from "../../src/report/limb-words.ts";
import { loadDocument } from "../../src/scenario/load.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft, operatingPoints } = loaded.scenario;
const point = operatingPoints[0]!.point;
const out = { ...point, limbRad: [(5 * Math.PI) / 6, (-5 * Math.PI) / 6], load: "heaviest" } as const;

describe("words about the limb", () => {
	it("say the pose and the load", () => {
		expect(poseWords(craft, point)).toBe("folded");
		expect(poseWords(craft, out)).toBe("boom 150\u00b0, scoop \u2212150\u00b0");
		expect(loadWords(craft, point)).toBe("no load");
		expect(loadWords(craft, out)).toBe("300 g in the grip");
		expect(loadWords(craft, { ...point, load: { massKg: 0.12 } })).toBe("120 g");
	});
	it("say what is nearest to a propeller and what the servos hold", () => {
		const now = limbNow(craft, out)!;
		expect(nearestWords(now)).toMatch(/^Nearest to a propeller: '\w+', \d+ mm from the front \w+ disc\.$/);
		expect(servoWords(now)).toMatch(
			/^To hold still the servos give: 'boom' 0\.\d\d of its 2\.40 N m \(\d+ %\), 'scoop' /,
		);
	});
	it("name the servo that cannot", () => {
		const weak = limbNow(craft, out)!.links.map((each) => ({ ...each, limitNm: 0.1 }));
		expect(servoWords({ links: weak, clearance: { metres: 1, rotor: "", of: "" } })).toContain(
			": 'boom' cannot hold it.",
		);
		const unknown = weak.map((each) => ({ ...each, torqueNm: null, currentA: null }));
		expect(servoWords({ links: unknown, clearance: { metres: 1, rotor: "", of: "" } })).toContain(
			"cannot hover here",
		);
	});
});
