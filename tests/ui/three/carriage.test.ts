import { describe, expect, it } from "vitest";
import sandpiper from "../../../scenarios/sandpiper.json";
import { linkPlaces } from "../../../src/craft/limb-pose.ts";
import type { Craft } from "../../../src/craft/model.ts";
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

describe("where a load that swings is drawn", () => {
	const lengthM = 0.4;
	const tethered: Craft = { ...craft, load: { ...craft.load, tether: { lengthM, dampingRatio: 0.01 } } };
	const share = 0.5;
	const sloshing: Craft = {
		...craft,
		load: { ...craft.load, liquid: { share, lengthM: 0.06, dampingRatio: 0.02 } },
	};
	const carrying = { ...point, load: "heaviest" as const };
	const leaning = drillOf({ events: [{ kind: "angle", atSec: 0.1, axis: "roll", angleRad: 0.3 }] });
	it.each([
		["on a tether", tethered, 1, lengthM],
		["as a liquid", sloshing, share, 0.06],
	])(
		"%s: weighed by hand, airframe and load have their middle where the trace says",
		(_, each, part, length) => {
			const { trace } = fly({
				craft: each,
				point: carrying,
				gainSet,
				drill: leaning,
				options: { noise: false },
			});
			let farthest = 0;
			for (const timeSec of [0, 0.5, 0.8, 1.2]) {
				const pose = poseAt(trace, timeSec, craft.rotors.length);
				const { centreM, hangs, loads } = standingAt(each, carrying, leaning, pose, timeSec);
				const turn = toMatrix(pose.attitude);
				const world = mat3.times(turn, hangs[0]!);
				expect(vec3.length(vec3.subtract(world, pose.hangs[0]!))).toBeLessThan(1e-12);
				farthest = Math.max(farthest, Math.acos(world[2]));
				const { massKg, positionM } = loads[0]!;
				// At rest a liquid's own middle is where it is held; a tether's load hangs from there.
				const rest = mat3.times(mat3.transpose(turn), [0, 0, 1]);
				const from = part === 1 ? positionM : vec3.subtract(positionM, vec3.scale(rest, length));
				const bob = vec3.scale(vec3.add(from, vec3.scale(hangs[0]!, length)), part * massKg);
				const stays = vec3.scale(positionM, (1 - part) * massKg);
				const frame = vec3.scale(craft.bare.centreOfMassM, craft.bare.massKg);
				const middle = vec3.scale(vec3.add(vec3.add(bob, stays), frame), 1 / (craft.bare.massKg + massKg));
				expect(vec3.length(vec3.subtract(middle, centreM))).toBeLessThan(1e-12);
			}
			expect(farthest).toBeGreaterThan(0.05);
		},
	);
	it("on a tether it is left behind at first: drawn, it moves slower than the whole", () => {
		const { trace } = fly({
			craft: tethered,
			point: carrying,
			gainSet,
			drill: leaning,
			options: { noise: false },
		});
		const speedOf = (place: (timeSec: number) => Vec3, timeSec: number): number =>
			vec3.length(vec3.subtract(place(timeSec + 0.002), place(timeSec - 0.002))) / 0.004;
		const load = (timeSec: number): Vec3 => {
			const pose = poseAt(trace, timeSec, craft.rotors.length);
			const { centreM, hangs, loads } = standingAt(tethered, carrying, leaning, pose, timeSec);
			const from = vec3.subtract(vec3.add(loads[0]!.positionM, vec3.scale(hangs[0]!, lengthM)), centreM);
			return vec3.add(pose.placeM, mat3.times(toMatrix(pose.attitude), from));
		};
		const whole = (timeSec: number): Vec3 => poseAt(trace, timeSec, craft.rotors.length).placeM;
		expect(speedOf(load, 0.6)).toBeLessThan(0.8 * speedOf(whole, 0.6));
		expect(speedOf(whole, 0.6)).toBeGreaterThan(0.2);
	});
});
