import loadMujoco from "@mujoco/mujoco";
import { describe, expect, it } from "vitest";
import * as mat3 from "../../src/math/mat3.ts";
import * as quaternion from "../../src/math/quaternion.ts";
import type { Mat3, Quat, Vec3 } from "../../src/math/types.ts";
import { step } from "../../src/physics/kernel.ts";
import { bodyRates } from "../../src/physics/kernel-layout.ts";
import type { Plant } from "../../src/physics/plant.ts";
import { bodyOf, samplePlant } from "../fixtures/plant.ts";

const inertia: Mat3 = [0.022, 0.001, -0.0008, 0.001, 0.025, 0.0005, -0.0008, 0.0005, 0.04];
const centre: Vec3 = [0.01, -0.006, 0.012];

/** Four thrusters on an unbalanced body in vacuum, rotors without spin momentum. */
function thrusterPlant(): Plant {
	const plant = samplePlant();
	const axes: Vec3[] = [
		[0.1, 0, -Math.sqrt(0.99)],
		[0, 0.1, -Math.sqrt(0.99)],
		[-0.1, 0, -Math.sqrt(0.99)],
		[0, 0, -1],
	];
	return samplePlant({
		centreOfMassM: centre,
		inertiaKgM2: inertia,
		resistanceOhm: 0,
		airDensityKgM3: 0,
		groundEffect: false,
		rotors: plant.rotors.map((r, i) => ({
			...r,
			axis: axes[i]!,
			inflowCoefficient: 0,
			inPlaneDragCoefficient: 0,
			inertiaKgM2: 0,
		})),
	});
}

/** The same body as the engine's own description, its world taken as north-east-down. */
function engineModel(plant: Plant, stepSec: number): string {
	const sites = plant.rotors.map((r, i) => `<site name="s${i}" pos="${r.positionM.join(" ")}"/>`).join("");
	const motors = plant.rotors
		.map((r, i) => {
			const arm = (r.spin * r.torqueCoefficient) / r.thrustCoefficient;
			return `<motor site="s${i}" gear="${[...r.axis, ...r.axis.map((v) => v * arm)].join(" ")}"/>`;
		})
		.join("");
	const j = plant.inertiaKgM2;
	return `<mujoco><option timestep="${stepSec}" integrator="RK4" gravity="0 0 ${plant.gravityMPerSec2}"/><worldbody><body><freejoint/>
		<inertial pos="${centre.join(" ")}" mass="${plant.massKg}" fullinertia="${[j[0], j[4], j[8], j[1], j[2], j[5]].join(" ")}"/>
		${sites}</body></worldbody><actuator>${motors}</actuator></mujoco>`;
}

/** Thrust that changes every millisecond; each on its own clock. */
const speedAt = (k: number, i: number): number => 480 + 60 * Math.sin(0.003 * k * (i + 1) + i) + 10 * i;

/** Attitude, place of the reference point and body rates after 2 s, the engine's with `parts` steps a millisecond. */
async function engineAfter(plant: Plant, parts: number) {
	const mujoco = await loadMujoco();
	const model = mujoco.MjModel.from_xml_string(engineModel(plant, 1e-3 / parts));
	const data = new mujoco.MjData(model);
	for (let k = 0; k < 2000; k++) {
		for (let i = 0; i < 4; i++) data.ctrl[i] = plant.rotors[i]!.thrustCoefficient * speedAt(k, i) ** 2;
		for (let j = 0; j < parts; j++) mujoco.mj_step(model, data);
	}
	return {
		pose: Array.from(data.qpos as Float64Array),
		rates: Array.from(data.qvel as Float64Array).slice(3),
	};
}

function kernelAfter(plant: Plant) {
	const body = bodyOf(plant, [0, 0, 0]);
	body.x.set(centre);
	for (let k = 0; k < 2000; k++) {
		for (let i = 0; i < 4; i++) {
			body.x[18 + i] = speedAt(k, i);
			body.u[i] = speedAt(k, i) / plant.openCircuitV;
		}
		step(body.kernel, body.x, body.u, body.air, body.outside, 1e-3);
	}
	const q = Array.from(body.x.slice(6, 10)) as unknown as Quat;
	const offset = mat3.times(quaternion.toMatrix(q), centre);
	const rates = new Float64Array(3);
	bodyRates(body.kernel, body.x, rates);
	return { pose: [...offset.map((v, i) => body.x[i]! - v), ...q], rates: Array.from(rates) };
}

describe("a free body with four thrusters against a general-purpose physics engine (MuJoCo, RK4)", () => {
	it("has the same place, attitude and rates after 2 s of changing thrust", async () => {
		const plant = thrusterPlant();
		const mine = kernelAfter(plant);
		// The engine averages rotation vectors over the stages, so its attitude is of second order in the step (its error
		// falls 4.0 times when the step halves): its answer is taken to the limit from two steps.
		const coarse = await engineAfter(plant, 2);
		const fine = await engineAfter(plant, 4);
		const sign = Math.sign(fine.pose[3]! * mine.pose[3]!);
		for (let i = 0; i < 7; i++) {
			const limit = (4 * fine.pose[i]! - coarse.pose[i]!) / 3;
			expect(Math.abs(mine.pose[i]! - (i < 3 ? 1 : sign) * limit)).toBeLessThan(2e-9);
		}
		for (let i = 0; i < 3; i++) expect(Math.abs(mine.rates[i]! - fine.rates[i]!)).toBeLessThan(1e-8);
		expect(Math.hypot(...mine.rates)).toBeGreaterThan(5);
	});
});
