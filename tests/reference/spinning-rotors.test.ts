import loadMujoco from "@mujoco/mujoco";
import { describe, expect, it } from "vitest";
import { combineBodies } from "../../src/craft/mass.ts";
import { diagonal } from "../../src/math/mat3.ts";
import type { Mat3, Vec3 } from "../../src/math/types.ts";
import { step } from "../../src/physics/kernel.ts";
import { bodyRates } from "../../src/physics/kernel-layout.ts";
import { bareBody, bodyOf } from "../fixtures/plant.ts";

const SPIN = 7e-5;
const ROTOR_KG = 0.02;
const PLACES: Vec3[] = [
	[0.18, 0.18, -0.02],
	[-0.18, 0.18, -0.02],
	[-0.18, -0.18, -0.02],
	[0.18, -0.18, -0.02],
];
const frame: Mat3 = [0.02, 0.001, -0.0008, 0.001, 0.024, 0.0005, -0.0008, 0.0005, 0.038];
/** All clockwise, so that the spin momentum does not cancel; rad/s about +z. */
const SPEEDS = [700, 650, 600, 550];
const RATES: Vec3 = [1, -0.7, 0.5];
const TICKS = 1000;

/** Airframe and four discs on frictionless hinges, falling freely without gravity: what the engine makes of them. */
async function engineAfter(parts: number) {
	const mujoco = await loadMujoco();
	const rotors = PLACES.map(
		(at, i) =>
			`<body pos="${at.join(" ")}"><joint name="r${i}" type="hinge" axis="0 0 1"/><inertial pos="0 0 0" mass="${ROTOR_KG}" diaginertia="${SPIN / 2} ${SPIN / 2} ${SPIN}"/></body>`,
	).join("");
	const j = frame;
	const model = mujoco.MjModel.from_xml_string(
		`<mujoco><option timestep="${1e-3 / parts}" integrator="RK4" gravity="0 0 0"/><worldbody><body><freejoint/>
		<inertial pos="0 0 0" mass="1.8" fullinertia="${[j[0], j[4], j[8], j[1], j[2], j[5]].join(" ")}"/>${rotors}</body></worldbody></mujoco>`,
	);
	const data = new mujoco.MjData(model);
	data.qvel.set([0, 0, 0, ...RATES, ...SPEEDS]);
	const speeds = [SPEEDS];
	for (let k = 0; k < TICKS; k++) {
		for (let part = 0; part < parts; part++) mujoco.mj_step(model, data);
		speeds.push(Array.from((data.qvel as Float64Array).slice(6, 10)));
	}
	return {
		attitude: Array.from((data.qpos as Float64Array).slice(3, 7)),
		rates: Array.from((data.qvel as Float64Array).slice(3, 6)),
		speeds,
	};
}

/** The kernel's body, its rotors led along the engine's speeds (relative to the airframe) tick by tick. */
function kernelAfter(speeds: readonly (readonly number[])[], spinInertia: number) {
	const whole = combineBodies([
		{ massKg: 1.8, centreOfMassM: [0, 0, 0], inertiaKgM2: frame },
		...PLACES.map((centreOfMassM) => ({
			massKg: ROTOR_KG,
			centreOfMassM,
			inertiaKgM2: diagonal(SPIN / 2, SPIN / 2, SPIN),
		})),
	]);
	const lagSec = 1000;
	const base = bareBody([1, 1, 1]);
	const plant = bareBody([1, 1, 1], {
		massKg: whole.massKg,
		centreOfMassM: whole.centreOfMassM,
		inertiaKgM2: whole.inertiaKgM2,
		resistanceOhm: 0,
		rotors: base.rotors.map((r) => ({
			...r,
			spin: 1 as const,
			inertiaKgM2: spinInertia,
			tauUpSec: lagSec,
			tauDownSec: lagSec,
		})),
	});
	const body = bodyOf(plant, RATES, speeds[0]!);
	for (let k = 0; k < TICKS; k++) {
		for (let i = 0; i < 4; i++) {
			body.x[18 + i] = speeds[k]![i]!;
			const rise = (speeds[k + 1]![i]! - speeds[k]![i]!) / 1e-3;
			body.u[i] = (speeds[k]![i]! + rise * lagSec) / plant.openCircuitV;
		}
		step(body.kernel, body.x, body.u, body.air, body.outside, 1e-3);
	}
	const rates = new Float64Array(3);
	bodyRates(body.kernel, body.x, rates);
	return { attitude: Array.from(body.x.slice(6, 10)), rates: Array.from(rates) };
}

describe("rotors as real spinning bodies on hinges (MuJoCo, RK4)", () => {
	it("turn the craft as the spin momentum of the kernel does", async () => {
		const coarse = await engineAfter(4);
		const fine = await engineAfter(8);
		const mine = kernelAfter(fine.speeds, SPIN);
		// The engine's attitude is of second order in its step: taken to the limit from two steps.
		const sign = Math.sign(fine.attitude[0]! * mine.attitude[0]!);
		const limit = fine.attitude.map((v, i) => (sign * (4 * v - coarse.attitude[i]!)) / 3);
		limit.forEach((v, i) => {
			expect(Math.abs(v - mine.attitude[i]!)).toBeLessThan(1e-9);
		});
		fine.rates.forEach((v, i) => {
			expect(Math.abs(v - mine.rates[i]!)).toBeLessThan(1e-9);
		});
		// Without spin momentum it would go quite another way.
		const still = kernelAfter(fine.speeds, 0);
		expect(Math.hypot(...still.attitude.map((v, i) => v - mine.attitude[i]!))).toBeGreaterThan(0.1);
	});
});
