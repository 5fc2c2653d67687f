import { describe, expect, it } from "vitest";
import sandpiper from "../../../scenarios/sandpiper.json";
import { linkPlaces } from "../../../src/craft/limb-pose.ts";
import type { Drill } from "../../../src/flight/drill.ts";
import { fly } from "../../../src/flight/engine.ts";
import * as mat3 from "../../../src/math/mat3.ts";
import { toMatrix } from "../../../src/math/quaternion.ts";
import type { Vec3 } from "../../../src/math/types.ts";
import * as vec3 from "../../../src/math/vec3.ts";
import { loadDocument } from "../../../src/scenario/load.ts";
import { loadsDuring, standingAt } from "../../../src/ui/three/carriage.ts";
import { poseAt } from "../../../src/ui/three/motion.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft, operatingPoints, drills, gainSets } = loaded.scenario;
const point = operatingPoints[0]!.point;
const limb = craft.limb!;
const gainSet = gainSets[1]!;
const drillOf = (change: Partial<Drill>): Drill => ({
	...drills.find(({ name }) => name === "swing out")!,
	durationSec: 1.2,
	...change,
});

describe("what hangs on the craft during a drill", () => {
	it("begins as the operating point has it and follows the events in the order of time", () => {
		const grip = { massKg: 0.1, positionM: limb.gripM, inGrip: true as const };
		const drill = drillOf({
			events: [
				{ kind: "letGo", atSec: 2 },
				{ kind: "takeUp", atSec: 1, ...grip },
			],
		});
		expect(loadsDuring(craft, point, drill, 0.5)).toEqual([]);
		expect(loadsDuring(craft, point, drill, 1)).toEqual([grip]);
		expect(loadsDuring(craft, point, drill, 2)).toEqual([]);
		expect(loadsDuring(craft, { ...point, load: "heaviest" }, drill, 1.5)).toHaveLength(2);
	});
});

describe("where the airframe stands in a flight with a limb", () => {
	const moving = drillOf({
		events: [{ kind: "limb", atSec: 0.1, link: 0, angleRad: 2.5 }],
	});
	const { trace } = fly({ craft, point, gainSet, drill: moving, options: { noise: false } });
	it("frame and links, weighed link by link, have their middle where the trace says", () => {
		let widest = 0;
		for (const timeSec of [0, 0.4, 0.8, 1.2]) {
			const pose = poseAt(trace, timeSec, craft.rotors.length);
			const { centreM, poseRad } = standingAt(craft, point, moving, pose, timeSec);
			widest = Math.max(widest, poseRad[0]!);
			// By hand: masses times places over the whole mass.
			const places = linkPlaces(limb, poseRad);
			const moments = limb.links.map(({ mass, hingeM }, i) => {
				const arm = mat3.times(places[i]!.turn, vec3.subtract(mass.centreOfMassM, hingeM));
				return vec3.scale(vec3.add(places[i]!.hingeM, arm), mass.massKg);
			});
			const sum = moments.reduce<Vec3>(
				(all, each) => vec3.add(all, each),
				vec3.scale(limb.frame.centreOfMassM, limb.frame.massKg),
			);
			const middle = vec3.scale(sum, 1 / craft.bare.massKg);
			expect(vec3.length(vec3.subtract(middle, centreM))).toBeLessThan(1e-12);
		}
		expect(widest).toBeGreaterThan(1);
	});
	it("does not jump when a load is taken up or let go, though the trace's place does", () => {
		const drill = drillOf({
			durationSec: 0.6,
			events: [
				{ kind: "takeUp", atSec: 0.2, massKg: 0.3, positionM: limb.gripM, inGrip: true },
				{ kind: "letGo", atSec: 0.4 },
			],
		});
		const flown = fly({ craft, point, gainSet, drill, options: { noise: false } }).trace;
		const reference = (timeSec: number): Vec3 => {
			const pose = poseAt(flown, timeSec, craft.rotors.length);
			const { centreM } = standingAt(craft, point, drill, pose, timeSec);
			return vec3.subtract(pose.placeM, mat3.times(toMatrix(pose.attitude), centreM));
		};
		const jump = (of: (timeSec: number) => Vec3, atSec: number) =>
			vec3.length(vec3.subtract(of(atSec + 0.004), of(atSec - 0.004)));
		const place = (timeSec: number): Vec3 => poseAt(flown, timeSec, craft.rotors.length).placeM;
		for (const atSec of [0.2, 0.4]) {
			expect(jump(place, atSec)).toBeGreaterThan(0.015);
			expect(jump(reference, atSec)).toBeLessThan(0.004);
		}
	});
});
