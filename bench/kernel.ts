import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import loadMujoco from "@mujoco/mujoco";
import { NOMINAL_POINT } from "../src/craft/model.ts";
import type { Vec3 } from "../src/math/types.ts";
import type { TreeBody } from "../src/physics/joint-tree.ts";
import { stepHeld } from "../src/physics/kernel.ts";
import { createKernel, type Kernel, WORK_STEP } from "../src/physics/kernel-layout.ts";
import { createLimbForces, GRIP } from "../src/physics/limb-forces.ts";
import { createLimbStepper } from "../src/physics/limb-stepper.ts";
import { craftMixer } from "../src/physics/mixer-at.ts";
import { plantAt } from "../src/physics/plant-at.ts";
import { trimAt } from "../src/physics/trim.ts";
import { sampleCraft } from "../tests/fixtures/craft.ts";

const TICKS = 60000;
const REPEATS = 9;
const LOOP = [4, 0.1, 0.1, 0.002, 0.25, 0.1, Math.exp(-2 * Math.PI * 40 * 1e-3), 4, 0.4];
const PERIOD = 1e-3;

/** Million steps a second of processor time (other work on the machine counts little), medians of interleaved repetitions; ratios of those; null where a tool is missing. */
export interface KernelBench {
	readonly javaScript: number;
	readonly native: number | null;
	readonly engine: number;
	readonly overNative: number | null;
	readonly overEngine: number;
	/** Time of a step with a moving limb of two links over that of the kernel's own. */
	readonly limbOverKernel: number;
	/** Largest difference of the final states of the JavaScript and the C++ flight. */
	readonly stateDifference: number | null;
}

/** The same 60 s flight (1 kHz loop, Runge-Kutta, whole model) in JavaScript and in C++ at -O3, and the engine's steps beside. */
export async function benchKernel(): Promise<KernelBench> {
	const craft = sampleCraft();
	const plant = plantAt(craft, NOMINAL_POINT);
	const mixer = craftMixer(craft);
	const trimmed = trimAt(craft, plant, NOMINAL_POINT, { mixer });
	if (!trimmed.feasible) throw new Error(trimmed.reason);
	const { trim } = trimmed;
	const kernel = createKernel(plant, { ...craft.sensors });
	const [c0, c1] = plant.curve.commands as [number, number];
	const [w0, w1] = plant.curve.speedsRadPerSec.map((w) => w / plant.curve.referenceVoltageV) as [
		number,
		number,
	];
	const loop = Float64Array.of(
		...LOOP,
		trim.throttle,
		craft.mixer.lowestSpin,
		c0,
		w0,
		(w1 - w0) / (c1 - c0),
		PERIOD,
		0.2,
	);
	const air = new Float64Array(17).fill(0.5, 0, 9);
	const outside = Float64Array.of(0.01, 0.005, 0.002, 0, 0, 0);
	const x = trim.state.slice();
	const flyOnce = (ticks: number): number => {
		x.set(trim.state);
		kernel.work[WORK_STEP] = PERIOD;
		const from = spentSec();
		flyLoop(loop, mixer.table, kernel, x, air, outside, ticks);
		return spentSec() - from;
	};
	flyOnce(TICKS);
	const native = buildNative();
	const input = [loop, mixer.table, kernel.p, kernel.work, trim.state, air, outside]
		.map((a) => Array.from(a).join(" "))
		.join(" ");
	const engine = await engineStepper();
	const times = {
		javaScript: [] as number[],
		native: [] as number[],
		engine: [] as number[],
		limb: [] as number[],
	};
	let stateDifference: number | null = null;
	for (let i = 0; i < REPEATS; i++) {
		times.javaScript.push(flyOnce(TICKS) / TICKS);
		const mine = x.slice();
		if (native) {
			const run = spawnSync(native.program, { input: `${input} 1 ${TICKS}`, encoding: "utf8" });
			const [seconds, ...state] = run.stdout.split(" ").map(Number);
			times.native.push(seconds! / TICKS);
			stateDifference = Math.max(...state.map((v, k) => Math.abs(v - mine[k]!)));
		}
		times.engine.push(engine(6000) / 6000);
	}
	native?.remove();
	// After the others: its calls of the kernel's derivative would count in what they measure.
	const limb = limbSteps();
	limb(3000);
	for (let i = 0; i < REPEATS; i++) times.limb.push(limb(3000) / 3000);
	const speed = (list: number[]): number => 1e-6 / list.sort((a, b) => a - b)[Math.floor(list.length / 2)]!;
	const javaScript = speed(times.javaScript);
	const nativeSpeed = native ? speed(times.native) : null;
	const engineSpeed = speed(times.engine);
	return {
		javaScript,
		native: nativeSpeed,
		engine: engineSpeed,
		overNative: nativeSpeed ? javaScript / nativeSpeed : null,
		overEngine: javaScript / engineSpeed,
		limbOverKernel: javaScript / speed(times.limb),
		stateDifference,
	};
}

const clamp = (v: number, limit: number): number => (v > limit ? limit : Math.max(v, -limit));

/** Processor time of this process. */
function spentSec(): number {
	const { user, system } = process.cpuUsage();
	return 1e-6 * (user + system);
}

/** bench/native/flight.cpp, line for line. */
function flyLoop(
	l: Float64Array,
	table: Float64Array,
	kernel: Kernel,
	x: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	ticks: number,
): void {
	const kAngle = l[0]!;
	const kp = l[1]!;
	const ki = l[2]!;
	const kd = l[3]!;
	const kpYaw = l[4]!;
	const kiYaw = l[5]!;
	const decay = l[6]!;
	const rateLimit = l[7]!;
	const outputLimit = l[8]!;
	const throttle = l[9]!;
	const lowest = l[10]!;
	const c0 = l[11]!;
	const w0 = l[12]!;
	const rise = l[13]!;
	const period = l[14]!;
	const rollSetPoint = l[15]!;
	const command = new Float64Array(4);
	let integralP = 0;
	let integralQ = 0;
	let integralR = 0;
	let slopeP = 0;
	let slopeQ = 0;
	let beforeP = 0;
	let beforeQ = 0;
	for (let tick = 0; tick < ticks; tick++) {
		const qw = x[6]!;
		const qx = x[7]!;
		const qy = x[8]!;
		const qz = x[9]!;
		const roll = Math.atan2(2 * (qy * qz + qw * qx), 1 - 2 * (qx * qx + qy * qy));
		const pitch = Math.asin(2 * (qw * qy - qx * qz));
		const p = x[13]!;
		const q = x[14]!;
		const r = x[15]!;
		const errorP = clamp(kAngle * (rollSetPoint - roll), rateLimit) - p;
		const errorQ = clamp(kAngle * -pitch, rateLimit) - q;
		const errorR = clamp(kAngle * 0, rateLimit) - r;
		integralP += ki * errorP * period;
		integralQ += ki * errorQ * period;
		integralR += kiYaw * errorR * period;
		slopeP = decay * slopeP - ((1 - decay) * (p - beforeP)) / period;
		slopeQ = decay * slopeQ - ((1 - decay) * (q - beforeQ)) / period;
		beforeP = p;
		beforeQ = q;
		const uP = clamp(kp * errorP + integralP + kd * slopeP, outputLimit);
		const uQ = clamp(kp * errorQ + integralQ + kd * slopeQ, outputLimit);
		const uR = clamp(kpYaw * errorR + integralR, outputLimit);
		for (let i = 0; i < 4; i++) {
			const c = throttle + table[3 * i]! * uP + table[3 * i + 1]! * uQ + table[3 * i + 2]! * uR;
			command[i] = w0 + rise * ((c < lowest ? lowest : Math.min(c, 1)) - c0);
		}
		stepHeld(kernel, x, command, air, outside);
	}
}

/** Steps of 1 ms of the sample craft with a limb of two links that swings to and fro, in wind, under its rotors' wash. */
function limbSteps(): (steps: number) => number {
	const plant = plantAt(sampleCraft(), NOMINAL_POINT);
	const link = (parent: number, hingeM: Vec3, centreOfMassM: Vec3): TreeBody => ({
		parent,
		hingeM,
		axis: [0, 1, 0],
		mass: { massKg: 0.1, centreOfMassM, inertiaKgM2: [1e-5, 0, 0, 0, 2e-4, 0, 0, 0, 2e-4] },
	});
	const tree = {
		frame: { massKg: 1.7, centreOfMassM: [0, 0, 0] as Vec3, inertiaKgM2: plant.inertiaKgM2 },
		bodies: [link(-1, [0.05, 0, 0.05], [0.12, 0, 0.05]), link(0, [0.2, 0, 0.05], [0.25, 0, 0.05])],
	};
	const drive = {
		kind: "servo" as const,
		naturalRadPerSec: 20,
		dampingRatio: 0.9,
		rateLimitRadPerSec: 5,
		torqueLimitNm: 3,
		jitterRad: 0,
		jitterHz: 10,
	};
	const stepper = createLimbStepper({
		plant,
		tree,
		drives: [drive, drive],
		inertiaFactor: 1,
		startRad: [0, 0],
		forces: createLimbForces({
			drag: [0, 1].map((body) => ({ body, fromCentreM: [0, 0, 0], areaM2: 0.003 })),
			grip: new Float64Array(GRIP.length),
			gripBody: 1,
			gripFromCentreM: [0, 0, 0],
			airDensityKgM3: plant.airDensityKgM3,
			rotorRadiusM: 0.14,
			carries: (i, b) => i <= b,
		}),
	});
	const kernel = createKernel(plant);
	const own = new Float64Array(stepper.ownLength);
	const x = new Float64Array(22);
	const u = new Float64Array(4).fill(450 / plant.openCircuitV);
	const air = new Float64Array(17).fill(0.5, 0, 9);
	const outside = new Float64Array(6);
	return (steps) => {
		x.fill(0);
		x[6] = 1;
		x.fill(450, 18);
		stepper.begin(kernel, own, [0, 0]);
		const from = spentSec();
		for (let i = 0; i < steps; i++) {
			if (i % 300 === 0) stepper.aim(own, 0, i % 600 ? 0 : 1.2);
			if (i % 300 === 0) stepper.aim(own, 1, i % 600 ? 0.8 : -0.5);
			kernel.work[WORK_STEP] = PERIOD;
			stepper.step(kernel, x, u, air, outside, own);
		}
		return spentSec() - from;
	};
}

/** Null without g++. */
function buildNative(): { program: string; remove: () => void } | null {
	const folder = mkdtempSync(join(tmpdir(), "levelhead-bench-"));
	const program = join(folder, "flight");
	const source = fileURLToPath(new URL("native/flight.cpp", import.meta.url));
	const build = spawnSync("g++", ["-O3", "-o", program, source]);
	const remove = (): void => rmSync(folder, { recursive: true, force: true });
	if (build.status === 0) return { program, remove };
	remove();
	return null;
}

/** A free body with four thrusters, Runge-Kutta, in the engine's own build for JavaScript. */
async function engineStepper(): Promise<(steps: number) => number> {
	const mujoco = await loadMujoco();
	const places = ["0.18 0.18", "-0.18 0.18", "-0.18 -0.18", "0.18 -0.18"];
	const sites = places.map((at, i) => `<site name="s${i}" pos="${at} 0"/>`).join("");
	const motors = places.map((_, i) => `<motor site="s${i}" gear="0 0 1 0 0 0.018"/>`).join("");
	const model = mujoco.MjModel.from_xml_string(
		`<mujoco><option timestep="0.001" integrator="RK4"/><worldbody><body><freejoint/><inertial pos="0 0 0" mass="1.9" diaginertia="0.022 0.025 0.04"/>${sites}</body></worldbody><actuator>${motors}</actuator></mujoco>`,
	);
	const data = new mujoco.MjData(model);
	const run = (steps: number): number => {
		data.ctrl.fill(4.66);
		const from = spentSec();
		for (let i = 0; i < steps; i++) mujoco.mj_step(model, data);
		return spentSec() - from;
	};
	run(2000);
	return run;
}
