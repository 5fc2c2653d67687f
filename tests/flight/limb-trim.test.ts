import { describe, expect, it } from "vitest";
import { linearise, OUTPUT } from "../../src/analysis/linearise.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { type Drill, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight } from "../../src/flight/engine.ts";
import { createLimbFlight } from "../../src/flight/limb-flight.ts";
import { startOf } from "../../src/flight/start.ts";
import { multiply } from "../../src/math/matrix.ts";
import {
	AIR_SIZE,
	bodyRates,
	createKernel,
	MOMENTUM,
	OUTSIDE_SIZE,
	ROTORS,
	stateSize,
	VELOCITY,
	WORK_STEP,
} from "../../src/physics/kernel-layout.ts";
import { loadsAt } from "../../src/physics/plant-at.ts";
import { good, textOf } from "../scenario/files.ts";

const { craft: shipped, gainSets } = good(textOf("sandpiper"));
/** Without what its sensors get wrong, which moves any flight off its trim. */
const craft: Craft = {
	...shipped,
	sensors: { ...shipped.sensors, gyroBiasRadPerSec: [0, 0, 0], levelOffsetRad: [0, 0] },
};
const gainSet = gainSets[1]!;
const REACHED = [Math.PI, -Math.PI] as const;
const AIR = { windMPerSec: [5, 4, -0.5] as const };

const soft: Craft = {
	...craft,
	limb: {
		...craft.limb!,
		links: craft.limb!.links.map((link, i) => ({
			...link,
			servo: { ...link.servo, stiffnessNmPerRad: i === 0 ? 9 : 0.5, backlashRad: 0.01 },
		})),
	},
};
const tethered: Craft = { ...craft, load: { ...craft.load, tether: { lengthM: 0.6, dampingRatio: 0.03 } } };
const liquid: Craft = {
	...craft,
	load: { ...craft.load, liquid: { share: 0.5, lengthM: 0.05, dampingRatio: 0.05 } },
};
const CASES: readonly (readonly [string, Craft, OperatingPoint])[] = [
	[
		"limb out, a load in the grip",
		craft,
		{ ...NOMINAL_POINT, ...AIR, limbRad: REACHED, load: { massKg: 0.25 } },
	],
	[
		"limb half way, a corner's inertia",
		craft,
		{ ...NOMINAL_POINT, ...AIR, limbRad: [1.2, -1.2], inertiaFactor: 1.15 },
	],
	[
		"limb out, a load on a tether",
		tethered,
		{ ...NOMINAL_POINT, ...AIR, limbRad: REACHED, load: { massKg: 0.2 } },
	],
	[
		"limb out on springs with play",
		soft,
		{ ...NOMINAL_POINT, ...AIR, limbRad: REACHED, load: { massKg: 0.2 } },
	],
	[
		"limb out, liquid in the grip",
		liquid,
		{ ...NOMINAL_POINT, ...AIR, limbRad: REACHED, load: { massKg: 0.2 } },
	],
];

/** A limb told to stay: the flight has it as bodies of their own. */
const drillOf = (change: Partial<Drill> = {}): Drill => ({
	name: "test",
	about: "",
	durationSec: 3,
	heightM: 60,
	seed: 7,
	events: [{ atSec: 2.9, kind: "limb", link: 0, angleRad: Math.PI }],
	wind: STILL_AIR,
	...change,
});

describe.each(CASES)("a flight that begins in wind with its %s", (_, each, point) => {
	it.each([
		["the point's wind", {}],
		[
			"a drill's wind that shears with height",
			{ wind: { ...STILL_AIR, meanMPerSec: [4, -3, 0], roughnessM: 0.05 } },
		],
	] as const)("stays where its trim put it: %s", (_name, change) => {
		const drill = drillOf(change);
		const flight = createFlight({
			craft: each,
			point,
			gainSet,
			drill,
			options: { noise: false, rounding: false, recordPeriodUs: 0 },
		});
		const at = (timeUs: number): Float64Array => {
			flight.advanceTo(timeUs);
			return flight.state.slice(0, stateSize(4));
		};
		const x0 = at(0);
		const x1 = at(1000);
		const rate = (i: number): number => Math.abs(x1[i]! - x0[i]!) / 1e-3;
		// m/s^2, N m, rad/s^2 of the rotors.
		for (let i = 0; i < 3; i++) expect(rate(VELOCITY + i)).toBeLessThan(1e-7);
		for (let i = 0; i < 3; i++) expect(rate(MOMENTUM + i)).toBeLessThan(1e-8);
		for (let i = 0; i < 4; i++) expect(rate(ROTORS + i)).toBeLessThan(1e-5);
		const before = flight.live().map(({ index }) => flight.state[index]!);
		const x2 = at(2e6);
		flight.live().forEach(({ name, index }, i) => {
			if (name.startsWith("joint"))
				expect(Math.abs(flight.state[index]! - before[i]!), name).toBeLessThan(1e-6);
		});
		for (let i = 0; i < ROTORS; i++) expect(Math.abs(x2[i]! - x0[i]!)).toBeLessThan(1e-5);
		expect(flight.ending).toBe(null);
	});
});

/** Both motor lags alike: the linear model has one. */
const oneLag = (each: Craft): Craft => ({
	...each,
	propulsion: { ...each.propulsion, tauUpSec: 0.06, tauDownSec: 0.06 },
});

describe.each(CASES)("the linear model in wind with its %s", (_, varied, point) => {
	it("moves as the flight's own stepper does", () => {
		const each = oneLag(varied);
		const found = linearise(each, point);
		if (!found.feasible) throw new Error(found.reason);
		const { linear } = found;
		const setup = { craft: each, point, gainSet, drill: drillOf({ heightM: 1000 }) };
		const start = startOf(setup);
		const limb = createLimbFlight({
			craft: each,
			point,
			drill: setup.drill,
			loads: loadsAt(each, point),
			down: start.down,
			wired: (plant) => plant,
		});
		const kernel = createKernel(start.plant, each.sensors);
		const own0 = new Float64Array(limb.stepper.ownLength);
		limb.begin(kernel, own0, start.servoNm);
		const n = linear.names.filter((name) => name.includes("JointRate")).length;
		const joints = limb.live().map(([, at]) => at);
		const u = new Float64Array(4).map((_v, i) => start.trim.state[ROTORS + i]! / start.trim.voltageV);
		const air = new Float64Array(AIR_SIZE);
		for (let i = 0; i < 9; i++) air[i] = point.windMPerSec[i % 3]!;
		const outside = new Float64Array(OUTSIDE_SIZE);
		// Long against rounding.
		const H = 1e-5;
		const seenAt = (x: Float64Array, own: Float64Array): number[] => {
			const rates = new Float64Array(3);
			bodyRates(kernel, x, rates);
			return [...x.slice(VELOCITY, VELOCITY + 3), ...rates, ...joints.map((at) => own[at]!)];
		};
		/** How velocity 3, body rates 3, joint angles and speeds in turn change over `seconds` at a state moved by `change`. */
		const gone = (change: (x: Float64Array, own: Float64Array) => void, seconds: number): number[] => {
			const x = Float64Array.from(start.trim.state);
			const own = own0.slice();
			change(x, own);
			limb.agree(kernel, own);
			const before = seenAt(x, own);
			kernel.work[WORK_STEP] = seconds;
			limb.stepper.step(kernel, x, u, air, outside, own);
			return seenAt(x, own).map((v, i) => v - before[i]!);
		};
		/** The same per second, at that state itself: what grows as the square of time falls out. */
		const moved = (change: (x: Float64Array, own: Float64Array) => void): number[] => {
			const once = gone(change, H);
			return gone(change, 2 * H).map((v, i) => (4 * once[i]! - v) / (2 * H));
		};
		const column = (name: string): number => linear.names.indexOf(name);
		const seen = multiply(linear.c, linear.a, OUTPUT.length, linear.order, linear.order);
		const axes = ["roll", "pitch", "yaw"] as const;
		const jointNames = linear.names
			.filter((name) => /Joint/.test(name))
			.sort((a, b) => {
				const order = (name: string): number =>
					2 * Number(/\d+$/.exec(name)) + (name.includes("Rate") ? 1 : 0);
				return order(a) - order(b);
			});
		expect(jointNames.length).toBe(joints.length);
		expect(n * 2).toBe(joints.length);
		const expected = (name: string): number[] => [
			...["north", "east", "down"].map((to) => linear.a[column(to) * linear.order + column(name)]!),
			...axes.map((_a, k) => seen[(OUTPUT.rate + k) * linear.order + column(name)]!),
			...jointNames.map((to) => linear.a[column(to) * linear.order + column(name)]!),
		];
		const moves: [string, number, (x: Float64Array, own: Float64Array, by: number) => void][] = [];
		for (const [k, name] of ["north", "east", "down"].entries())
			moves.push([
				name,
				1e-3,
				(x, _own, by) => {
					x[VELOCITY + k]! += by;
				},
			]);
		for (const [k, axis] of axes.entries())
			moves.push([
				`${axis}Momentum`,
				1e-3,
				(x, _own, by) => {
					for (let i = 0; i < 3; i++) x[MOMENTUM + i]! += by * linear.plant.inertiaKgM2[(3 * i + k) as 0];
				},
			]);
		for (const [k, name] of jointNames.entries())
			moves.push([
				name,
				1e-5,
				(_x, own, by) => {
					own[joints[k]!]! += by;
				},
			]);
		for (const [name, step, move] of moves) {
			const up = moved((x, own) => move(x, own, step));
			const down = moved((x, own) => move(x, own, -step));
			const wanted = expected(name);
			up.forEach((v, i) => {
				const slope = (v - down[i]!) / (2 * step);
				const size = Math.max(1, Math.abs(wanted[i]!));
				expect(Math.abs(slope - wanted[i]!) / size, `${name} to ${i}`).toBeLessThan(2e-5);
			});
		}
	});
});
