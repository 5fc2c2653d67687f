import type { HEAD_SIZE, ROTOR_STRIDE, ROTORS, WORK_CARRY } from "./kernel-layout.ts";
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

/**
 * Cheeseman and Bennett: 1 / (1 - (R/4z)^2 / (1 + (V/vh)^2)), z no less than `lowest`, R/2; `induced`: vh^2, `lost`: (R/4)^2 vh^2.
 * The 1e-30, far below any speed's square, stands for a rotor at rest in still air, which gains nothing.
 */
function groundGain(
	lowest: number,
	induced: number,
	lost: number,
	hubHeight: number,
	sidewaysSquared: number,
): number {
	let height = hubHeight;
	if (height < lowest) height = lowest;
	const free = height * height * (induced + (sidewaysSquared + 1e-30));
	return free / (free - lost);
}

/**
 * Four stages of one body; with h = 0 the first stage alone, its derivative written to `out`. One long function: calls
 * would put its numbers through memory. The common craft, four upright rotors alike in one plane, has its rotors' numbers
 * in locals and shares the products that such rotors have in common; others take the general loops.
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
	const stride: typeof ROTOR_STRIDE = 23;
	const rotors: typeof ROTORS = 18;
	const carry: typeof WORK_CARRY = 26;
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
	const alike = p[22]!;
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
	const four = n === 4 && alike === 1;
	const at1 = head + stride;
	const at2 = head + 2 * stride;
	const at3 = head + 3 * stride;
	const kT = p[head + 6]!;
	const kQ = p[head + 7]!;
	const kI = p[head + 8]!;
	const kH = p[head + 9]!;
	const up = p[head + 10]!;
	const down = p[head + 11]!;
	const lostPerLift = p[head + 18]!;
	const perLift = p[head + 19]!;
	const lowest = p[head + 20]!;
	const jr = p[head + 22]!;
	const rz = p[head + 2]!;
	const rx0 = p[head]!;
	const ry0 = p[head + 1]!;
	const spin0 = p[head + 21]!;
	const rx1 = p[at1]!;
	const ry1 = p[at1 + 1]!;
	const spin1 = p[at1 + 21]!;
	const rx2 = p[at2]!;
	const ry2 = p[at2 + 1]!;
	const spin2 = p[at2 + 21]!;
	const rx3 = p[at3]!;
	const ry3 = p[at3 + 1]!;
	const spin3 = p[at3 + 21]!;
	const s0 = x[rotors]!;
	const s1 = x[rotors + 1]!;
	const s2 = x[rotors + 2]!;
	const s3 = x[rotors + 3]!;
	const u0 = u[0]!;
	let w0 = s0;
	let a0 = s0;
	const u1 = u[1]!;
	let w1 = s1;
	let a1 = s1;
	const u2 = u[2]!;
	let w2 = s2;
	let a2 = s2;
	const u3 = u[3]!;
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
	// What the position needs of the first slope and the last, and the low-pass of start, first slope and last.
	let firstX = 0;
	let firstY = 0;
	let firstZ = 0;
	let lastX = 0;
	let lastY = 0;
	let lastZ = 0;
	let gyroX = 0;
	let gyroY = 0;
	let gyroZ = 0;
	if (!four)
		for (let i = 0; i < n; i++) {
			const w = x[rotors + i]!;
			work[i] = w;
			work[8 + i] = w;
		}
	const ofStart = work[carry]!;
	const ofFirst = work[carry + 1]!;
	const ofLast = work[carry + 2]!;
	const ofEnd = work[carry + 3]!;
	for (let stage = 0; ; stage++) {
		// What spins, and what it draws.
		let mx = hx;
		let my = hy;
		let mz = hz;
		let shaftPower = 0;
		if (four) {
			mz -= jr * (spin0 * w0 + spin1 * w1 + (spin2 * w2 + spin3 * w3));
			shaftPower = kQ * (w0 * w0 * w0 + w1 * w1 * w1 + (w2 * w2 * w2 + w3 * w3 * w3));
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
		const qx2 = qx + qx;
		const qy2 = qy + qy;
		const qz2 = qz + qz;
		const xx = qx * qx2;
		const yy = qy * qy2;
		const zz = qz * qz2;
		const xy = qx * qy2;
		const xz = qx * qz2;
		const yz = qy * qz2;
		const sx2 = qw * qx2;
		const sy2 = qw * qy2;
		const sz2 = qw * qz2;
		const r00 = 1 - (yy + zz);
		const r01 = xy - sz2;
		const r02 = xz + sy2;
		const r10 = xy + sz2;
		const r11 = 1 - (xx + zz);
		const r12 = yz - sx2;
		const r20 = xz - sy2;
		const r21 = yz + sx2;
		const r22 = 1 - (xx + yy);
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
			const flatX = bx + ay * rz;
			const flatY = by - ax * rz;
			const flatUp = -(pz + r22 * rz);
			const ix0 = flatX - az * ry0;
			const iy0 = flatY + az * rx0;
			const ww0 = w0 * w0;
			let lift0 = kT * ww0;
			if (groundEffect > 0)
				lift0 *= groundGain(
					lowest,
					perLift * ww0,
					lostPerLift * ww0,
					flatUp - (r20 * rx0 + r21 * ry0),
					ix0 * ix0 + iy0 * iy0,
				);
			const t0 = positive(lift0 + kI * w0 * (bz + ax * ry0 - ay * rx0));
			const gx0 = w0 * ix0;
			const gy0 = w0 * iy0;
			const dw0 = lagged(volts * u0 - w0, up, down);
			const ix1 = flatX - az * ry1;
			const iy1 = flatY + az * rx1;
			const ww1 = w1 * w1;
			let lift1 = kT * ww1;
			if (groundEffect > 0)
				lift1 *= groundGain(
					lowest,
					perLift * ww1,
					lostPerLift * ww1,
					flatUp - (r20 * rx1 + r21 * ry1),
					ix1 * ix1 + iy1 * iy1,
				);
			const t1 = positive(lift1 + kI * w1 * (bz + ax * ry1 - ay * rx1));
			const gx1 = w1 * ix1;
			const gy1 = w1 * iy1;
			const dw1 = lagged(volts * u1 - w1, up, down);
			const ix2 = flatX - az * ry2;
			const iy2 = flatY + az * rx2;
			const ww2 = w2 * w2;
			let lift2 = kT * ww2;
			if (groundEffect > 0)
				lift2 *= groundGain(
					lowest,
					perLift * ww2,
					lostPerLift * ww2,
					flatUp - (r20 * rx2 + r21 * ry2),
					ix2 * ix2 + iy2 * iy2,
				);
			const t2 = positive(lift2 + kI * w2 * (bz + ax * ry2 - ay * rx2));
			const gx2 = w2 * ix2;
			const gy2 = w2 * iy2;
			const dw2 = lagged(volts * u2 - w2, up, down);
			const ix3 = flatX - az * ry3;
			const iy3 = flatY + az * rx3;
			const ww3 = w3 * w3;
			let lift3 = kT * ww3;
			if (groundEffect > 0)
				lift3 *= groundGain(
					lowest,
					perLift * ww3,
					lostPerLift * ww3,
					flatUp - (r20 * rx3 + r21 * ry3),
					ix3 * ix3 + iy3 * iy3,
				);
			const t3 = positive(lift3 + kI * w3 * (bz + ax * ry3 - ay * rx3));
			const gx3 = w3 * ix3;
			const gy3 = w3 * iy3;
			const dw3 = lagged(volts * u3 - w3, up, down);
			const gx = kH * (gx0 + gx1 + (gx2 + gx3));
			const gy = kH * (gy0 + gy1 + (gy2 + gy3));
			fx -= gx;
			fy -= gy;
			fz -= t0 + t1 + (t2 + t3);
			tx += rz * gy - (ry0 * t0 + ry1 * t1 + (ry2 * t2 + ry3 * t3));
			ty += rx0 * t0 + rx1 * t1 + (rx2 * t2 + rx3 * t3) - rz * gx;
			tz -=
				kQ * (spin0 * ww0 + spin1 * ww1 + (spin2 * ww2 + spin3 * ww3)) +
				kH *
					(rx0 * gy0 -
						ry0 * gx0 +
						(rx1 * gy1 - ry1 * gx1) +
						(rx2 * gy2 - ry2 * gx2 + (rx3 * gy3 - ry3 * gx3)));
			sdz = jr * (spin0 * dw0 + spin1 * dw1 + (spin2 * dw2 + spin3 * dw3));
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
						p[at + 20]!,
						p[at + 19]! * ww,
						p[at + 18]! * ww,
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
		const halfX = 0.5 * wx;
		const halfY = 0.5 * wy;
		const halfZ = 0.5 * wz;
		const dqw = -(qx * halfX + qy * halfY + qz * halfZ);
		const dqx = qw * halfX + qy * halfZ - qz * halfY;
		const dqy = qw * halfY + qz * halfX - qx * halfZ;
		const dqz = qw * halfZ + qx * halfY - qy * halfX;
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
			aer += weight * der;
			aep += weight * dep;
			er = er0 + aNext * der;
			ep = ep0 + aNext * dep;
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
			work[WORK_VOLTAGE] = volts;
			firstX = dvx;
			firstY = dvy;
			firstZ = dvz;
			gyroX = ofStart * mx + ofFirst * (dhx - sdx);
			gyroY = ofStart * my + ofFirst * (dhy - sdy);
			gyroZ = ofStart * mz + ofFirst * (dhz - sdz);
		}
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
		if (stage === 3) {
			lastX = dvx;
			lastY = dvy;
			lastZ = dvz;
			gyroX += ofLast * (dhx - sdx);
			gyroY += ofLast * (dhy - sdy);
			gyroZ += ofLast * (dhz - sdz);
			break;
		}
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
	}
	// One Newton step back to a unit quaternion: its drift is of the method's own order.
	const unit = 1.5 - 0.5 * (aqw * aqw + aqx * aqx + aqy * aqy + aqz * aqz);
	// h^2/6 (k1 + k2 + k3) from the velocity's own sum, v + h/6 (k1 + 2 k2 + 2 k3 + k4).
	const half = 0.5 * h;
	const bend = (h * h) / 12;
	x[0] = px0 + half * (vx0 + avx) + bend * (firstX - lastX);
	x[1] = py0 + half * (vy0 + avy) + bend * (firstY - lastY);
	x[2] = pz0 + half * (vz0 + avz) + bend * (firstZ - lastZ);
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
	// J^-1 of the body's own momentum, H - h, is its rates.
	let mx = ahx;
	let my = ahy;
	let mz = ahz;
	if (four) {
		x[rotors] = a0;
		x[rotors + 1] = a1;
		x[rotors + 2] = a2;
		x[rotors + 3] = a3;
		mz -= jr * (spin0 * a0 + spin1 * a1 + (spin2 * a2 + spin3 * a3));
	} else
		for (let i = 0, at = head; i < n; i++, at += stride) {
			const w = work[8 + i]!;
			x[rotors + i] = w;
			mx -= p[at + 12]! * w;
			my -= p[at + 13]! * w;
			mz -= p[at + 14]! * w;
		}
	gyroX += ofEnd * mx;
	gyroY += ofEnd * my;
	gyroZ += ofEnd * mz;
	const decay = work[20]!;
	x[13] = decay * x[13]! + (j00 * gyroX + j01 * gyroY + j02 * gyroZ);
	x[14] = decay * x[14]! + (j01 * gyroX + j11 * gyroY + j12 * gyroZ);
	x[15] = decay * x[15]! + (j02 * gyroX + j12 * gyroY + j22 * gyroZ);
	x[16] = aer;
	x[17] = aep;
}
