import type {
	AIR_ROTATION,
	HEAD_SIZE,
	ROTOR_STRIDE,
	ROTORS,
	WORK_BROWN_OUT,
	WORK_CARRY,
	WORK_FELT,
	WORK_STEP,
	WORK_WEIGHTS,
} from "./kernel-layout.ts";
import { groundGain, lagged, positive } from "./rotor-laws.ts";

/**
 * One classical Runge-Kutta step of work[WORK_STEP] seconds, in place, of the craft that most builders fly: four upright
 * rotors alike, in one plane. slope.ts has the equations for any craft; here such rotors share the products that they have
 * in common, and every number but the sums is a local: no call is left, which would put them through memory. Wind does not shear, and the
 * estimator's own step is left to lean.ts, for which each stage's specific force stands in work[WORK_FELT..].
 */
export function evolve(
	p: Float64Array,
	work: Float64Array,
	x: Float64Array,
	u: Float64Array,
	air: Float64Array,
	outside: Float64Array,
): void {
	// Imported numbers are read anew at every use; literals fold into addresses, and their types hold them to the layout's.
	const head: typeof HEAD_SIZE = 23;
	const stride: typeof ROTOR_STRIDE = 23;
	const rotors: typeof ROTORS = 18;
	const weights: typeof WORK_WEIGHTS = 0;
	const carry: typeof WORK_CARRY = 9;
	const felt: typeof WORK_FELT = 19;
	const turning: typeof AIR_ROTATION = 14;
	const brownOut: typeof WORK_BROWN_OUT = 7;
	const seconds: typeof WORK_STEP = 8;
	const h = work[seconds]!;
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
	const gravity = p[1]!;
	const cx = p[8]!;
	const cy = p[9]!;
	const cz = p[10]!;
	const dragX = p[11]!;
	const dragY = p[12]!;
	const dragZ = p[13]!;
	const airP = air[turning]!;
	const airQ = air[turning + 1]!;
	const airR = air[turning + 2]!;
	const outTx = outside[0]!;
	const outTy = outside[1]!;
	const outTz = outside[2]!;
	const outFx = outside[3]!;
	const outFy = outside[4]!;
	const outFz = outside[5]!;
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
	const u1 = u[1]!;
	let w1 = s1;
	const u2 = u[2]!;
	let w2 = s2;
	const u3 = u[3]!;
	let w3 = s3;
	// State at the step's start (0) and at the stage; the running sum grows in x itself.
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
	const ofStart = work[carry]!;
	const ofFirst = work[carry + 1]!;
	const ofLast = work[carry + 2]!;
	const ofEnd = work[carry + 3]!;
	for (let stage = 0; ; stage++) {
		// What spins, and what it draws.
		const mz = hz - jr * (spin0 * w0 + spin1 * w1 + (spin2 * w2 + spin3 * w3));
		const shaftPower = kQ * (w0 * w0 * w0 + w1 * w1 * w1 + (w2 * w2 * w2 + w3 * w3 * w3));
		let room = sagRoom - sagPower * shaftPower;
		if (room < 0) {
			room = 0;
			work[brownOut] = 1;
		}
		const volts = 0.5 * (open + Math.sqrt(room));
		const wx = j00 * hx + j01 * hy + j02 * mz;
		const wy = j01 * hx + j11 * hy + j12 * mz;
		const wz = j02 * hx + j12 * hy + j22 * mz;
		const aNext = stage < 2 ? 0.5 * h : h;
		const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
		// Attitude before the forces: the next stage begins with it, and the processor need not wait (a twentieth, measured).
		const halfX = 0.5 * wx;
		const halfY = 0.5 * wy;
		const halfZ = 0.5 * wz;
		const dqw = -(qx * halfX + qy * halfY + qz * halfZ);
		const dqx = qw * halfX + qy * halfZ - qz * halfY;
		const dqy = qw * halfY + qz * halfX - qx * halfZ;
		const dqz = qw * halfZ + qx * halfY - qy * halfX;
		x[6] = x[6]! + weight * dqw;
		x[7] = x[7]! + weight * dqx;
		x[8] = x[8]! + weight * dqy;
		x[9] = x[9]! + weight * dqz;
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
		const ux = vx - air[airAt]!;
		const uy = vy - air[airAt + 1]!;
		const uz = vz - air[airAt + 2]!;
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
				(rx0 * gy0 - ry0 * gx0 + (rx1 * gy1 - ry1 * gx1) + (rx2 * gy2 - ry2 * gx2 + (rx3 * gy3 - ry3 * gx3)));
		const sdz = jr * (spin0 * dw0 + spin1 * dw1 + (spin2 * dw2 + spin3 * dw3));
		x[rotors] = x[rotors]! + weight * dw0;
		w0 = s0 + aNext * dw0;
		x[rotors + 1] = x[rotors + 1]! + weight * dw1;
		w1 = s1 + aNext * dw1;
		x[rotors + 2] = x[rotors + 2]! + weight * dw2;
		w2 = s2 + aNext * dw2;
		x[rotors + 3] = x[rotors + 3]! + weight * dw3;
		w3 = s3 + aNext * dw3;
		// Derivatives of the rigid body.
		const dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outFx);
		const dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outFy);
		const dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outFz);
		const dhx = tx - wy * hz + wz * hy;
		const dhy = ty - wz * hx + wx * hz;
		const dhz = tz - wx * hy + wy * hx;
		if (estimatorRate > 0) {
			const at = felt + 6 * stage;
			work[at] = r00 * dvx + r10 * dvy + r20 * dvz;
			work[at + 1] = r01 * dvx + r11 * dvy + r21 * dvz;
			work[at + 2] = r02 * dvx + r12 * dvy + r22 * dvz;
			work[at + 3] = r20;
			work[at + 4] = r21;
			work[at + 5] = r22;
		}
		if (stage === 0) {
			firstX = dvx;
			firstY = dvy;
			firstZ = dvz;
			gyroX = ofStart * hx + ofFirst * dhx;
			gyroY = ofStart * hy + ofFirst * dhy;
			gyroZ = ofStart * mz + ofFirst * (dhz - sdz);
		}
		x[3] = x[3]! + weight * dvx;
		x[4] = x[4]! + weight * dvy;
		x[5] = x[5]! + weight * (dvz + gravity);
		x[10] = x[10]! + weight * dhx;
		x[11] = x[11]! + weight * dhy;
		x[12] = x[12]! + weight * dhz;
		if (stage === 3) {
			lastX = dvx;
			lastY = dvy;
			lastZ = dvz;
			gyroX += ofLast * dhx;
			gyroY += ofLast * dhy;
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
	const avx = x[3]!;
	const avy = x[4]!;
	const avz = x[5]!;
	// h^2/6 (k1 + k2 + k3) from the velocity's own sum, v + h/6 (k1 + 2 k2 + 2 k3 + k4).
	const half = 0.5 * h;
	const bend = (h * h) / 12;
	x[0] = px0 + half * (vx0 + avx) + bend * (firstX - lastX);
	x[1] = py0 + half * (vy0 + avy) + bend * (firstY - lastY);
	x[2] = pz0 + half * (vz0 + avz) + bend * (firstZ - lastZ);
	// One Newton step back to a unit quaternion: its drift is of the method's own order.
	const aqw = x[6]!;
	const aqx = x[7]!;
	const aqy = x[8]!;
	const aqz = x[9]!;
	const unit = 1.5 - 0.5 * (aqw * aqw + aqx * aqx + aqy * aqy + aqz * aqz);
	x[6] = aqw * unit;
	x[7] = aqx * unit;
	x[8] = aqy * unit;
	x[9] = aqz * unit;
	// J^-1 of the body's own momentum, H - h, is its rates.
	gyroX += ofEnd * x[10]!;
	gyroY += ofEnd * x[11]!;
	gyroZ +=
		ofEnd *
		(x[12]! -
			jr * (spin0 * x[rotors]! + spin1 * x[rotors + 1]! + (spin2 * x[rotors + 2]! + spin3 * x[rotors + 3]!)));
	const decay = work[weights + 4]!;
	x[13] = decay * x[13]! + (j00 * gyroX + j01 * gyroY + j02 * gyroZ);
	x[14] = decay * x[14]! + (j01 * gyroX + j11 * gyroY + j12 * gyroZ);
	x[15] = decay * x[15]! + (j02 * gyroX + j12 * gyroY + j22 * gyroZ);
}
