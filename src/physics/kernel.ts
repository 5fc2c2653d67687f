import {
	AIR_ROTATION,
	AIR_ROUGHNESS,
	AIR_SHEAR_SCALE,
	AIR_SHEARED,
	HEAD_SIZE,
	type Kernel,
	ROTOR_STRIDE,
	ROTORS,
	WORK_BROWN_OUT,
	WORK_STEP,
	WORK_VOLTAGE,
	WORK_WEIGHED_STEP,
} from "./kernel-layout.ts";

/**
 * The equations of motion, written once: momentum state, rotors, battery, drag, ground effect (docs/model.md sections 3
 * and 4). Array layouts in kernel-layout.ts. `u`, one per rotor: steady speed per volt, curve(c) speedFactor / V_ref.
 */

/** One classical Runge-Kutta step of `stepSec` from x to x, in place. */
export function step(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	stepSec: number,
): void {
	kernel.work[WORK_STEP] = stepSec;
	stepHeld(kernel, x, u, air, outside);
}

/** `step` of kernel.work[WORK_STEP] seconds: no number is passed, so none is boxed in a flight's loop. */
export function stepHeld(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
): void {
	const { work } = kernel;
	if (work[WORK_WEIGHED_STEP] !== work[WORK_STEP]) denseWeights(kernel.p, work);
	evolve(kernel.rotorCount, kernel.p, work, x, u, air, outside, x);
}

/** dx/dt at x with the air of the step's start. */
export function derivative(
	kernel: Kernel,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	dx: Float64Array,
): void {
	kernel.work[WORK_STEP] = 0;
	evolve(kernel.rotorCount, kernel.p, kernel.work, x, u, air, outside, dx);
}

/**
 * Weights that carry a first-order low-pass g' = a (w - g) across a step exactly for the cubic w of Runge-Kutta's own dense
 * output (b1 = s - 3/2 s^2 + 2/3 s^3, b2 = b3 = s^2 - 2/3 s^3, b4 = -1/2 s^2 + 2/3 s^3; Hairer, Norsett, Wanner, Solving
 * Ordinary Differential Equations I, II.6, from memory): g+ = E g + m0 w + h sum d_i w'_i, with m_k the integral over
 * 0..1 of z exp(-z (1-s)) s^k ds, z = a h. Without a low-pass (a = 0) g is w at the step's end.
 */
function denseWeights(p: Float64Array, work: Float64Array): void {
	const a = p[17]!;
	const stepSec = work[WORK_STEP]!;
	const z = a * stepSec;
	let m0 = 1;
	let m1 = 1;
	let m2 = 1;
	let m3 = 1;
	if (a > 0 && z < 2) {
		let term = z / 4;
		m3 = 0;
		for (let j = 0; j < 40 && m3 + term !== m3; j++) {
			m3 += term;
			term *= -z / (j + 5);
		}
		m2 = ((1 - m3) * z) / 3;
		m1 = ((1 - m2) * z) / 2;
		m0 = (1 - m1) * z;
	} else if (a > 0) {
		m0 = -Math.expm1(-z);
		m1 = 1 - m0 / z;
		m2 = 1 - (2 * m1) / z;
		m3 = 1 - (3 * m2) / z;
	}
	work[16] = stepSec * (m1 - 1.5 * m2 + (2 / 3) * m3);
	work[17] = stepSec * (m2 - (2 / 3) * m3);
	work[18] = work[17]!;
	work[19] = stepSec * (-0.5 * m2 + (2 / 3) * m3);
	work[20] = a > 0 ? Math.exp(-z) : 0;
	work[21] = m0;
	work[WORK_WEIGHED_STEP] = stepSec;
}

/** Four stages of one body; with h = 0 the first stage alone, its derivative written to `out`. */
function evolve(
	n: number,
	p: Float64Array,
	work: Float64Array,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	out: Float64Array,
): void {
	// Imported numbers are read anew at every use; local ones stay in registers.
	const head = HEAD_SIZE | 0;
	const stride = ROTOR_STRIDE | 0;
	const rotors = ROTORS | 0;
	const airRotation = AIR_ROTATION | 0;
	const h = work[WORK_STEP]!;
	const invMass = p[0]!;
	const j00 = p[2]!;
	const j11 = p[3]!;
	const j22 = p[4]!;
	const j01 = p[5]!;
	const j02 = p[6]!;
	const j12 = p[7]!;
	const sagPower = p[15]!;
	const estimatorRate = p[18]!;
	const open = p[14]!;
	const sagRoom = open * open - p[16]!;
	const groundEffect = p[21]!;
	// Every axis (0, 0, -1): what multiplies by its zeros is left out.
	const allUpright = p[22]!;
	const roughness = air[AIR_ROUGHNESS]!;
	// State at the step's start (0), at the stage (s), and the running sum (a).
	const px0 = x[0]!;
	const py0 = x[1]!;
	const pz0 = x[2]!;
	const vx0 = x[3]!;
	const vy0 = x[4]!;
	const vz0 = x[5]!;
	const qw0 = x[6]!;
	const qx0 = x[7]!;
	const qy0 = x[8]!;
	const qz0 = x[9]!;
	const hx0 = x[10]!;
	const hy0 = x[11]!;
	const hz0 = x[12]!;
	const er0 = x[16]!;
	const ep0 = x[17]!;
	let pz = pz0;
	let vx = vx0;
	let vy = vy0;
	let vz = vz0;
	let qw = qw0;
	let qx = qx0;
	let qy = qy0;
	let qz = qz0;
	let hx = hx0;
	let hy = hy0;
	let hz = hz0;
	let er = er0;
	let ep = ep0;
	let apx = px0;
	let apy = py0;
	let apz = pz0;
	let avx = vx0;
	let avy = vy0;
	let avz = vz0;
	let aqw = qw0;
	let aqx = qx0;
	let aqy = qy0;
	let aqz = qz0;
	let ahx = hx0;
	let ahy = hy0;
	let ahz = hz0;
	let aer = er0;
	let aep = ep0;
	// The low-pass: rates at the step's start, weighted sum of (H - h)'.
	let wx0 = 0;
	let wy0 = 0;
	let wz0 = 0;
	let dgx = 0;
	let dgy = 0;
	let dgz = 0;
	for (let i = 0; i < n; i++) {
		const w = x[rotors + i]!;
		work[i] = w;
		work[8 + i] = w;
	}
	for (let stage = 0; stage < 4; stage++) {
		// What spins, and what it draws.
		let mx = hx;
		let my = hy;
		let mz = hz;
		let shaftPower = 0;
		for (let i = 0, at = head; i < n; i++, at += stride) {
			const w = work[i]!;
			if (allUpright === 0) {
				mx -= p[at + 12]! * w;
				my -= p[at + 13]! * w;
			}
			mz -= p[at + 14]! * w;
			shaftPower += p[at + 7]! * (w * w * w);
		}
		let room = sagRoom - sagPower * shaftPower;
		if (room < 0) {
			room = 0;
			work[WORK_BROWN_OUT] = 1;
		}
		const volts = 0.5 * (open + Math.sqrt(room));
		const wx = j00 * mx + j01 * my + j02 * mz;
		const wy = j01 * mx + j11 * my + j12 * mz;
		const wz = j02 * mx + j12 * my + j22 * mz;
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
		const airAt = stage === 0 ? 0 : stage === 3 ? 6 : 3;
		let ux = vx - air[airAt]!;
		let uy = vy - air[airAt + 1]!;
		let uz = vz - air[airAt + 2]!;
		if (roughness > 0) {
			const share = Math.log(Math.max(-pz, roughness) / roughness) * air[AIR_SHEAR_SCALE]!;
			ux -= share * air[AIR_SHEARED]!;
			uy -= share * air[AIR_SHEARED + 1]!;
			uz -= share * air[AIR_SHEARED + 2]!;
		}
		const bx = r00 * ux + r10 * uy + r20 * uz;
		const by = r01 * ux + r11 * uy + r21 * uz;
		const bz = r02 * ux + r12 * uy + r22 * uz;
		const ax = wx - air[airRotation]!;
		const ay = wy - air[airRotation + 1]!;
		const az = wz - air[airRotation + 2]!;
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
		const aNext = stage < 2 ? 0.5 * h : h;
		const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
		let sdx = 0;
		let sdy = 0;
		let sdz = 0;
		for (let i = 0, at = head; i < n; i++, at += stride) {
			const rx = p[at]!;
			const ry = p[at + 1]!;
			const rz = p[at + 2]!;
			const w = work[i]!;
			const ww = w * w;
			const kx = bx + ay * rz - az * ry;
			const ky = by + az * rx - ax * rz;
			const kz = bz + ax * ry - ay * rx;
			let axial = -kz;
			let ix = kx;
			let iy = ky;
			let iz = 0;
			if (allUpright === 0) {
				const nx = p[at + 3]!;
				const ny = p[at + 4]!;
				const nz = p[at + 5]!;
				axial = kx * nx + ky * ny + kz * nz;
				ix = kx - axial * nx;
				iy = ky - axial * ny;
				iz = kz - axial * nz;
			}
			let thrust = p[at + 6]! * ww;
			if (groundEffect > 0) {
				// Cheeseman and Bennett: 1 / (1 - (R/4z)^2 / (1 + (V/vh)^2)), z no less than R/2.
				const height = Math.max(-(pz + r20 * rx + r21 * ry + r22 * rz), p[at + 20]!);
				const induced = p[at + 19]! * ww;
				const over = 16 * height * height * (induced + ix * ix + iy * iy + iz * iz);
				if (over > 0) thrust *= over / (over - p[at + 18]! * induced);
			}
			thrust -= p[at + 8]! * w * axial;
			if (thrust < 0) thrust = 0;
			const drag = p[at + 9]! * w;
			let gx = -drag * ix;
			let gy = -drag * iy;
			let gz = -thrust;
			if (allUpright === 0) {
				gx += thrust * p[at + 3]!;
				gy += thrust * p[at + 4]!;
				gz = thrust * p[at + 5]! - drag * iz;
				tx += p[at + 15]! * ww;
				ty += p[at + 16]! * ww;
			}
			fx += gx;
			fy += gy;
			fz += gz;
			tx += ry * gz - rz * gy;
			ty += rz * gx - rx * gz;
			tz += rx * gy - ry * gx + p[at + 17]! * ww;
			const gap = volts * u[i]! - w;
			const dw = gap * (gap > 0 ? p[at + 10]! : p[at + 11]!);
			if (allUpright === 0) {
				sdx += p[at + 12]! * dw;
				sdy += p[at + 13]! * dw;
			}
			sdz += p[at + 14]! * dw;
			if (h === 0) out[rotors + i] = dw;
			else {
				work[8 + i] = work[8 + i]! + weight * dw;
				work[i] = x[rotors + i]! + aNext * dw;
			}
		}
		// Derivatives of the rigid body.
		const dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outside[3]!);
		const dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outside[4]!);
		const dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outside[5]!);
		const dhx = tx - wy * hz + wz * hy;
		const dhy = ty - wz * hx + wx * hz;
		const dhz = tz - wx * hy + wy * hx;
		const dqw = -0.5 * (qx * wx + qy * wy + qz * wz);
		const dqx = 0.5 * (qw * wx + qy * wz - qz * wy);
		const dqy = 0.5 * (qw * wy + qz * wx - qx * wz);
		const dqz = 0.5 * (qw * wz + qx * wy - qy * wx);
		let der = 0;
		let dep = 0;
		if (estimatorRate > 0) {
			// A complementary estimator leans towards the tilt that the specific force suggests.
			const lx = r00 * dvx + r10 * dvy + r20 * dvz;
			const ly = r01 * dvx + r11 * dvy + r21 * dvz;
			const lz = r02 * dvx + r12 * dvy + r22 * dvz;
			const seenRoll = Math.atan2(-ly, -lz);
			const seenPitch = Math.atan2(lx, Math.sqrt(ly * ly + lz * lz));
			der = p[19]! + estimatorRate * (seenRoll - Math.atan2(r21, r22) - er);
			dep = p[20]! + estimatorRate * (seenPitch + Math.asin(Math.max(-1, Math.min(1, r20))) - ep);
		}
		const gravity = p[1]!;
		if (h === 0) {
			const a = p[17]!;
			out[0] = vx;
			out[1] = vy;
			out[2] = vz;
			out[3] = dvx;
			out[4] = dvy;
			out[5] = dvz + gravity;
			out[6] = dqw;
			out[7] = dqx;
			out[8] = dqy;
			out[9] = dqz;
			out[10] = dhx;
			out[11] = dhy;
			out[12] = dhz;
			out[13] = a * (wx - x[13]!);
			out[14] = a * (wy - x[14]!);
			out[15] = a * (wz - x[15]!);
			out[16] = der;
			out[17] = dep;
			return;
		}
		if (stage === 0) {
			wx0 = wx;
			wy0 = wy;
			wz0 = wz;
			work[WORK_VOLTAGE] = volts;
		}
		const dense = work[16 + stage]!;
		dgx += dense * (dhx - sdx);
		dgy += dense * (dhy - sdy);
		dgz += dense * (dhz - sdz);
		apx += weight * vx;
		apy += weight * vy;
		apz += weight * vz;
		avx += weight * dvx;
		avy += weight * dvy;
		avz += weight * (dvz + gravity);
		aqw += weight * dqw;
		aqx += weight * dqx;
		aqy += weight * dqy;
		aqz += weight * dqz;
		ahx += weight * dhx;
		ahy += weight * dhy;
		ahz += weight * dhz;
		aer += weight * der;
		aep += weight * dep;
		pz = pz0 + aNext * vz;
		vx = vx0 + aNext * dvx;
		vy = vy0 + aNext * dvy;
		vz = vz0 + aNext * (dvz + gravity);
		qw = qw0 + aNext * dqw;
		qx = qx0 + aNext * dqx;
		qy = qy0 + aNext * dqy;
		qz = qz0 + aNext * dqz;
		hx = hx0 + aNext * dhx;
		hy = hy0 + aNext * dhy;
		hz = hz0 + aNext * dhz;
		er = er0 + aNext * der;
		ep = ep0 + aNext * dep;
	}
	// One Newton step back to a unit quaternion: its drift is of the method's own order.
	const unit = 1.5 - 0.5 * (aqw * aqw + aqx * aqx + aqy * aqy + aqz * aqz);
	const decay = work[20]!;
	const hold = work[21]!;
	x[0] = apx;
	x[1] = apy;
	x[2] = apz;
	x[3] = avx;
	x[4] = avy;
	x[5] = avz;
	x[6] = aqw * unit;
	x[7] = aqx * unit;
	x[8] = aqy * unit;
	x[9] = aqz * unit;
	x[10] = ahx;
	x[11] = ahy;
	x[12] = ahz;
	x[13] = decay * x[13]! + hold * wx0 + j00 * dgx + j01 * dgy + j02 * dgz;
	x[14] = decay * x[14]! + hold * wy0 + j01 * dgx + j11 * dgy + j12 * dgz;
	x[15] = decay * x[15]! + hold * wz0 + j02 * dgx + j12 * dgy + j22 * dgz;
	x[16] = aer;
	x[17] = aep;
	for (let i = 0; i < n; i++) x[rotors + i] = work[8 + i]!;
}
