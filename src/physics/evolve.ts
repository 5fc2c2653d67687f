import type { HEAD_SIZE, ROTOR_STRIDE, ROTORS } from "./kernel-layout.ts";
import {
	AIR_ROTATION,
	AIR_ROUGHNESS,
	AIR_SHEAR_SCALE,
	AIR_SHEARED,
	WORK_BROWN_OUT,
	WORK_STEP,
	WORK_VOLTAGE,
} from "./kernel-layout.ts";

// Calls of these three are inlined: they cost nothing, and both ways through the rotors share them.

/** A branch, which costs less than Math.max. */
const positive = (v: number): number => {
	if (v < 0) return 0;
	return v;
};

const lagged = (gap: number, up: number, down: number): number => gap * (gap > 0 ? up : down);

/** Cheeseman and Bennett: 1 / (1 - (R/4z)^2 / (1 + (V/vh)^2)), z no less than `lowest`, R/2; `induced`: vh^2. */
function groundGain(
	radiusSquared: number,
	induced: number,
	lowest: number,
	hubHeight: number,
	sidewaysSquared: number,
): number {
	let height = hubHeight;
	if (height < lowest) height = lowest;
	const over = 16 * height * height * (induced + sidewaysSquared);
	return over > 0 ? over / (over - radiusSquared * induced) : 1;
}

/**
 * Four stages of one body; with h = 0 the first stage alone, its derivative written to `out`. One long function: calls
 * would put its numbers through memory, and keeping four rotors' numbers in locals is a fifth of its speed.
 */
export function evolve(
	n: number,
	p: Float64Array,
	work: Float64Array,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
	out: Float64Array,
): void {
	// Imported numbers are read anew at every use; literals fold into addresses, and their types hold them to the layout's.
	const head: typeof HEAD_SIZE = 23;
	const stride: typeof ROTOR_STRIDE = 21;
	const rotors: typeof ROTORS = 18;
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
	const allUpright = p[22]!;
	const roughness = air[AIR_ROUGHNESS]!;
	const gravity = p[1]!;
	const cx = p[8]!;
	const cy = p[9]!;
	const cz = p[10]!;
	const dragX = p[11]!;
	const dragY = p[12]!;
	const dragZ = p[13]!;
	const airP = air[AIR_ROTATION]!;
	const airQ = air[AIR_ROTATION + 1]!;
	const airR = air[AIR_ROTATION + 2]!;
	const outTx = outside[0]!;
	const outTy = outside[1]!;
	const outTz = outside[2]!;
	const outFx = outside[3]!;
	const outFy = outside[4]!;
	const outFz = outside[5]!;
	// The common craft, four upright rotors, has each rotor's numbers in locals; others take the general loops.
	const four = n === 4 && allUpright === 1;
	const at1 = head + stride;
	const at2 = head + 2 * stride;
	const at3 = head + 3 * stride;
	const last = four ? rotors + 3 : rotors;
	const rx0 = p[head]!;
	const ry0 = p[head + 1]!;
	const rz0 = p[head + 2]!;
	const kT0 = p[head + 6]!;
	const kQ0 = p[head + 7]!;
	const kI0 = p[head + 8]!;
	const kH0 = p[head + 9]!;
	const up0 = p[head + 10]!;
	const down0 = p[head + 11]!;
	const jz0 = p[head + 14]!;
	const yawK0 = p[head + 17]!;
	const rr0 = p[head + 18]!;
	const perLift0 = p[head + 19]!;
	const lowest0 = p[head + 20]!;
	const rx1 = p[at1]!;
	const ry1 = p[at1 + 1]!;
	const rz1 = p[at1 + 2]!;
	const kT1 = p[at1 + 6]!;
	const kQ1 = p[at1 + 7]!;
	const kI1 = p[at1 + 8]!;
	const kH1 = p[at1 + 9]!;
	const up1 = p[at1 + 10]!;
	const down1 = p[at1 + 11]!;
	const jz1 = p[at1 + 14]!;
	const yawK1 = p[at1 + 17]!;
	const rr1 = p[at1 + 18]!;
	const perLift1 = p[at1 + 19]!;
	const lowest1 = p[at1 + 20]!;
	const rx2 = p[at2]!;
	const ry2 = p[at2 + 1]!;
	const rz2 = p[at2 + 2]!;
	const kT2 = p[at2 + 6]!;
	const kQ2 = p[at2 + 7]!;
	const kI2 = p[at2 + 8]!;
	const kH2 = p[at2 + 9]!;
	const up2 = p[at2 + 10]!;
	const down2 = p[at2 + 11]!;
	const jz2 = p[at2 + 14]!;
	const yawK2 = p[at2 + 17]!;
	const rr2 = p[at2 + 18]!;
	const perLift2 = p[at2 + 19]!;
	const lowest2 = p[at2 + 20]!;
	const rx3 = p[at3]!;
	const ry3 = p[at3 + 1]!;
	const rz3 = p[at3 + 2]!;
	const kT3 = p[at3 + 6]!;
	const kQ3 = p[at3 + 7]!;
	const kI3 = p[at3 + 8]!;
	const kH3 = p[at3 + 9]!;
	const up3 = p[at3 + 10]!;
	const down3 = p[at3 + 11]!;
	const jz3 = p[at3 + 14]!;
	const yawK3 = p[at3 + 17]!;
	const rr3 = p[at3 + 18]!;
	const perLift3 = p[at3 + 19]!;
	const lowest3 = p[at3 + 20]!;
	const s0 = x[rotors]!;
	const s1 = x[four ? rotors + 1 : rotors]!;
	const s2 = x[four ? rotors + 2 : rotors]!;
	const s3 = x[last]!;
	const u0 = u[0]!;
	let w0 = s0;
	let a0 = s0;
	const u1 = u[four ? 1 : 0]!;
	let w1 = s1;
	let a1 = s1;
	const u2 = u[four ? 2 : 0]!;
	let w2 = s2;
	let a2 = s2;
	const u3 = u[four ? 3 : 0]!;
	let w3 = s3;
	let a3 = s3;
	// State at the step's start (0), at the stage, and the running sum (a).
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
	if (!four)
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
		if (four) {
			mz = mz - jz0 * w0 - jz1 * w1 - jz2 * w2 - jz3 * w3;
			shaftPower = kQ0 * (w0 * w0 * w0) + kQ1 * (w1 * w1 * w1) + kQ2 * (w2 * w2 * w2) + kQ3 * (w3 * w3 * w3);
		} else
			for (let i = 0, at = head; i < n; i++, at += stride) {
				const w = work[i]!;
				mx -= p[at + 12]! * w;
				my -= p[at + 13]! * w;
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
		const ax = wx - airP;
		const ay = wy - airQ;
		const az = wz - airR;
		// Airframe drag at the centre of pressure.
		const sx = bx + ay * cz - az * cy;
		const sy = by + az * cx - ax * cz;
		const sz = bz + ax * cy - ay * cx;
		const speed = Math.sqrt(sx * sx + sy * sy + sz * sz);
		let fx = -dragX * speed * sx;
		let fy = -dragY * speed * sy;
		let fz = -dragZ * speed * sz;
		let tx = outTx + cy * fz - cz * fy;
		let ty = outTy + cz * fx - cx * fz;
		let tz = outTz + cx * fy - cy * fx;
		const aNext = stage < 2 ? 0.5 * h : h;
		const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
		let sdx = 0;
		let sdy = 0;
		let sdz = 0;
		if (four) {
			const ix0 = bx + ay * rz0 - az * ry0;
			const iy0 = by + az * rx0 - ax * rz0;
			let lift0 = kT0 * (w0 * w0);
			if (groundEffect > 0)
				lift0 *= groundGain(
					rr0,
					perLift0 * (w0 * w0),
					lowest0,
					-(pz + r20 * rx0 + r21 * ry0 + r22 * rz0),
					ix0 * ix0 + iy0 * iy0,
				);
			const t0 = positive(lift0 + kI0 * w0 * (bz + ax * ry0 - ay * rx0));
			const gx0 = -(kH0 * w0) * ix0;
			const gy0 = -(kH0 * w0) * iy0;
			const dw0 = lagged(volts * u0 - w0, up0, down0);
			const ix1 = bx + ay * rz1 - az * ry1;
			const iy1 = by + az * rx1 - ax * rz1;
			let lift1 = kT1 * (w1 * w1);
			if (groundEffect > 0)
				lift1 *= groundGain(
					rr1,
					perLift1 * (w1 * w1),
					lowest1,
					-(pz + r20 * rx1 + r21 * ry1 + r22 * rz1),
					ix1 * ix1 + iy1 * iy1,
				);
			const t1 = positive(lift1 + kI1 * w1 * (bz + ax * ry1 - ay * rx1));
			const gx1 = -(kH1 * w1) * ix1;
			const gy1 = -(kH1 * w1) * iy1;
			const dw1 = lagged(volts * u1 - w1, up1, down1);
			const ix2 = bx + ay * rz2 - az * ry2;
			const iy2 = by + az * rx2 - ax * rz2;
			let lift2 = kT2 * (w2 * w2);
			if (groundEffect > 0)
				lift2 *= groundGain(
					rr2,
					perLift2 * (w2 * w2),
					lowest2,
					-(pz + r20 * rx2 + r21 * ry2 + r22 * rz2),
					ix2 * ix2 + iy2 * iy2,
				);
			const t2 = positive(lift2 + kI2 * w2 * (bz + ax * ry2 - ay * rx2));
			const gx2 = -(kH2 * w2) * ix2;
			const gy2 = -(kH2 * w2) * iy2;
			const dw2 = lagged(volts * u2 - w2, up2, down2);
			const ix3 = bx + ay * rz3 - az * ry3;
			const iy3 = by + az * rx3 - ax * rz3;
			let lift3 = kT3 * (w3 * w3);
			if (groundEffect > 0)
				lift3 *= groundGain(
					rr3,
					perLift3 * (w3 * w3),
					lowest3,
					-(pz + r20 * rx3 + r21 * ry3 + r22 * rz3),
					ix3 * ix3 + iy3 * iy3,
				);
			const t3 = positive(lift3 + kI3 * w3 * (bz + ax * ry3 - ay * rx3));
			const gx3 = -(kH3 * w3) * ix3;
			const gy3 = -(kH3 * w3) * iy3;
			const dw3 = lagged(volts * u3 - w3, up3, down3);
			fx = fx + gx0 + gx1 + gx2 + gx3;
			fy = fy + gy0 + gy1 + gy2 + gy3;
			fz = fz - t0 - t1 - t2 - t3;
			tx =
				tx -
				(ry0 * t0 + rz0 * gy0) -
				(ry1 * t1 + rz1 * gy1) -
				(ry2 * t2 + rz2 * gy2) -
				(ry3 * t3 + rz3 * gy3);
			ty =
				ty +
				(rz0 * gx0 + rx0 * t0) +
				(rz1 * gx1 + rx1 * t1) +
				(rz2 * gx2 + rx2 * t2) +
				(rz3 * gx3 + rx3 * t3);
			tz =
				tz +
				(rx0 * gy0 - ry0 * gx0 + yawK0 * (w0 * w0)) +
				(rx1 * gy1 - ry1 * gx1 + yawK1 * (w1 * w1)) +
				(rx2 * gy2 - ry2 * gx2 + yawK2 * (w2 * w2)) +
				(rx3 * gy3 - ry3 * gx3 + yawK3 * (w3 * w3));
			sdz = jz0 * dw0 + jz1 * dw1 + jz2 * dw2 + jz3 * dw3;
			a0 += weight * dw0;
			w0 = s0 + aNext * dw0;
			a1 += weight * dw1;
			w1 = s1 + aNext * dw1;
			a2 += weight * dw2;
			w2 = s2 + aNext * dw2;
			a3 += weight * dw3;
			w3 = s3 + aNext * dw3;
			if (h === 0) {
				out[rotors + 0] = dw0;
				out[rotors + 1] = dw1;
				out[rotors + 2] = dw2;
				out[rotors + 3] = dw3;
			}
		} else
			for (let i = 0, at = head; i < n; i++, at += stride) {
				const rx = p[at]!;
				const ry = p[at + 1]!;
				const rz = p[at + 2]!;
				const nx = p[at + 3]!;
				const ny = p[at + 4]!;
				const nz = p[at + 5]!;
				const w = work[i]!;
				const ww = w * w;
				const kx = bx + ay * rz - az * ry;
				const ky = by + az * rx - ax * rz;
				const kz = bz + ax * ry - ay * rx;
				const axial = kx * nx + ky * ny + kz * nz;
				const ix = kx - axial * nx;
				const iy = ky - axial * ny;
				const iz = kz - axial * nz;
				let lift = p[at + 6]! * ww;
				if (groundEffect > 0)
					lift *= groundGain(
						p[at + 18]!,
						p[at + 19]! * ww,
						p[at + 20]!,
						-(pz + r20 * rx + r21 * ry + r22 * rz),
						ix * ix + iy * iy + iz * iz,
					);
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
				sdx += p[at + 12]! * dw;
				sdy += p[at + 13]! * dw;
				sdz += p[at + 14]! * dw;
				if (h === 0) out[rotors + i] = dw;
				else {
					work[8 + i] = work[8 + i]! + weight * dw;
					work[i] = x[rotors + i]! + aNext * dw;
				}
			}
		// Derivatives of the rigid body.
		const dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outFx);
		const dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outFy);
		const dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outFz);
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
	if (four) {
		x[rotors] = a0;
		x[rotors + 1] = a1;
		x[rotors + 2] = a2;
		x[rotors + 3] = a3;
	} else for (let i = 0; i < n; i++) x[rotors + i] = work[8 + i]!;
}
