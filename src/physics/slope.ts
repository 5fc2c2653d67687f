import type {
	AIR_ROTATION,
	AIR_ROUGHNESS,
	AIR_SHEAR_SCALE,
	AIR_SHEARED,
	HEAD_SIZE,
	Kernel,
	ROTOR_STRIDE,
	ROTORS,
	WORK_BROWN_OUT,
	WORK_OWN,
} from "./kernel-layout.ts";
import { leanPitch, leanRoll } from "./lean.ts";
import { groundGain, lagged, positive } from "./rotor-laws.ts";

/**
 * dx/dt of any craft (docs/model.md sections 3 and 4): momentum state, rotors anywhere, battery, drag, ground effect.
 * `air`: offset `airAt` of its velocity in force. Into work[WORK_OWN..]: the body's own momentum H - h and its rate, 3 each.
 * evolve.ts holds the same equations for the craft that most builders fly.
 */
export function slope(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	airAt: number,
	outside: Float64Array,
	dx: Float64Array,
): void {
	// Literals, since imported numbers are read anew at every use.
	const head: typeof HEAD_SIZE = 23;
	const stride: typeof ROTOR_STRIDE = 23;
	const rotors: typeof ROTORS = 18;
	const own: typeof WORK_OWN = 13;
	const sheared: typeof AIR_SHEARED = 9;
	const rough: typeof AIR_ROUGHNESS = 12;
	const shearScale: typeof AIR_SHEAR_SCALE = 13;
	const turning: typeof AIR_ROTATION = 14;
	const brownOut: typeof WORK_BROWN_OUT = 7;
	const { rotorCount: n, p, work } = kernel;
	const qw = x[6]!;
	const qx = x[7]!;
	const qy = x[8]!;
	const qz = x[9]!;
	const hx = x[10]!;
	const hy = x[11]!;
	const hz = x[12]!;
	// What spins, and what it draws.
	let mx = hx;
	let my = hy;
	let mz = hz;
	let shaftPower = 0;
	for (let i = 0, at = head; i < n; i++, at += stride) {
		const w = x[rotors + i]!;
		mx -= p[at + 12]! * w;
		my -= p[at + 13]! * w;
		mz -= p[at + 14]! * w;
		shaftPower += p[at + 7]! * (w * w * w);
	}
	const open = p[14]!;
	let room = open * open - p[16]! - p[15]! * shaftPower;
	if (room < 0) {
		room = 0;
		work[brownOut] = 1;
	}
	const volts = 0.5 * (open + Math.sqrt(room));
	const wx = p[2]! * mx + p[5]! * my + p[6]! * mz;
	const wy = p[5]! * mx + p[3]! * my + p[7]! * mz;
	const wz = p[6]! * mx + p[7]! * my + p[4]! * mz;
	// Rotation matrix, body to world.
	const r00 = 1 - 2 * (qy * qy + qz * qz);
	const r01 = 2 * (qx * qy - qw * qz);
	const r02 = 2 * (qx * qz + qw * qy);
	const r10 = 2 * (qx * qy + qw * qz);
	const r11 = 1 - 2 * (qx * qx + qz * qz);
	const r12 = 2 * (qy * qz - qw * qx);
	const r20 = 2 * (qx * qz - qw * qy);
	const r21 = 2 * (qy * qz + qw * qx);
	const r22 = 1 - 2 * (qx * qx + qy * qy);
	// Velocity of the centre of mass relative to the air, body axes.
	let ux = x[3]! - air[airAt]!;
	let uy = x[4]! - air[airAt + 1]!;
	let uz = x[5]! - air[airAt + 2]!;
	const roughness = air[rough]!;
	if (roughness > 0) {
		const share = Math.log(Math.max(-x[2]!, roughness) / roughness) * air[shearScale]!;
		ux -= share * air[sheared]!;
		uy -= share * air[sheared + 1]!;
		uz -= share * air[sheared + 2]!;
	}
	const bx = r00 * ux + r10 * uy + r20 * uz;
	const by = r01 * ux + r11 * uy + r21 * uz;
	const bz = r02 * ux + r12 * uy + r22 * uz;
	const ax = wx - air[turning]!;
	const ay = wy - air[turning + 1]!;
	const az = wz - air[turning + 2]!;
	// Airframe drag at the centre of pressure.
	const cx = p[8]!;
	const cy = p[9]!;
	const cz = p[10]!;
	const sx = bx + ay * cz - az * cy;
	const sy = by + az * cx - ax * cz;
	const sz = bz + ax * cy - ay * cx;
	const speed = Math.sqrt(sx * sx + sy * sy + sz * sz);
	let fx = -p[11]! * speed * sx;
	let fy = -p[12]! * speed * sy;
	let fz = -p[13]! * speed * sz;
	let tx = outside[0]! + cy * fz - cz * fy;
	let ty = outside[1]! + cz * fx - cx * fz;
	let tz = outside[2]! + cx * fy - cy * fx;
	const groundEffect = p[21]! > 0;
	let spunX = 0;
	let spunY = 0;
	let spunZ = 0;
	for (let i = 0, at = head; i < n; i++, at += stride) {
		const rx = p[at]!;
		const ry = p[at + 1]!;
		const rz = p[at + 2]!;
		const nx = p[at + 3]!;
		const ny = p[at + 4]!;
		const nz = p[at + 5]!;
		const w = x[rotors + i]!;
		const ww = w * w;
		const kx = bx + ay * rz - az * ry;
		const ky = by + az * rx - ax * rz;
		const kz = bz + ax * ry - ay * rx;
		const axial = kx * nx + ky * ny + kz * nz;
		const ix = kx - axial * nx;
		const iy = ky - axial * ny;
		const iz = kz - axial * nz;
		let lift = p[at + 6]! * ww;
		if (groundEffect) {
			const height = -(x[2]! + r20 * rx + r21 * ry + r22 * rz);
			lift *= groundGain(
				p[at + 20]!,
				p[at + 19]! * ww,
				p[at + 18]! * ww,
				height,
				ix * ix + iy * iy + iz * iz,
			);
		}
		const thrust = positive(lift - p[at + 8]! * w * axial);
		const drag = p[at + 9]! * w;
		const gx = thrust * nx - drag * ix;
		const gy = thrust * ny - drag * iy;
		const gz = thrust * nz - drag * iz;
		fx += gx;
		fy += gy;
		fz += gz;
		tx += ry * gz - rz * gy + p[at + 15]! * ww;
		ty += rz * gx - rx * gz + p[at + 16]! * ww;
		tz += rx * gy - ry * gx + p[at + 17]! * ww;
		const dw = lagged(volts * u[i]! - w, p[at + 10]!, p[at + 11]!);
		spunX += p[at + 12]! * dw;
		spunY += p[at + 13]! * dw;
		spunZ += p[at + 14]! * dw;
		dx[rotors + i] = dw;
	}
	// Derivatives of the rigid body.
	const invMass = p[0]!;
	const dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outside[3]!);
	const dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outside[4]!);
	const dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outside[5]!);
	dx[0] = x[3]!;
	dx[1] = x[4]!;
	dx[2] = x[5]!;
	dx[3] = dvx;
	dx[4] = dvy;
	dx[5] = dvz + p[1]!;
	dx[6] = -0.5 * (qx * wx + qy * wy + qz * wz);
	dx[7] = 0.5 * (qw * wx + qy * wz - qz * wy);
	dx[8] = 0.5 * (qw * wy + qz * wx - qx * wz);
	dx[9] = 0.5 * (qw * wz + qx * wy - qy * wx);
	const dhx = tx - wy * hz + wz * hy;
	const dhy = ty - wz * hx + wx * hz;
	const dhz = tz - wx * hy + wy * hx;
	dx[10] = dhx;
	dx[11] = dhy;
	dx[12] = dhz;
	work[own] = mx;
	work[own + 1] = my;
	work[own + 2] = mz;
	work[own + 3] = dhx - spunX;
	work[own + 4] = dhy - spunY;
	work[own + 5] = dhz - spunZ;
	const lowPass = p[17]!;
	dx[13] = lowPass * (wx - x[13]!);
	dx[14] = lowPass * (wy - x[14]!);
	dx[15] = lowPass * (wz - x[15]!);
	dx[16] = 0;
	dx[17] = 0;
	const estimatorRate = p[18]!;
	if (estimatorRate > 0) {
		const lx = r00 * dvx + r10 * dvy + r20 * dvz;
		const ly = r01 * dvx + r11 * dvy + r21 * dvz;
		const lz = r02 * dvx + r12 * dvy + r22 * dvz;
		dx[16] = p[19]! + estimatorRate * (leanRoll(ly, lz, r21, r22) - x[16]!);
		dx[17] = p[20]! + estimatorRate * (leanPitch(lx, ly, lz, r20) - x[17]!);
	}
}
