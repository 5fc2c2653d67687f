// The equations and steps of src/physics/evolve.ts, line for line, to time JavaScript against -O3. Its answers are
// compared with the kernel's in every run of the bench.
#pragma once
#include <cmath>

constexpr int HEAD_SIZE = 23, ROTOR_STRIDE = 23, ROTORS = 18, WORK_BROWN_OUT = 23, WORK_VOLTAGE = 24, WORK_STEP = 25, WORK_CARRY = 26;
constexpr int AIR_SHEARED = 9, AIR_ROUGHNESS = 12, AIR_SHEAR_SCALE = 13, AIR_ROTATION = 14;

static double positive(double v) { return v < 0 ? 0 : v; }

static double lagged(double gap, double up, double down) { return gap * (gap > 0 ? up : down); }

static double groundGain(double lowest, double induced, double lost, double hubHeight, double sidewaysSquared) {
	const double height = hubHeight < lowest ? lowest : hubHeight;
	const double free = height * height * (induced + (sidewaysSquared + 1e-30));
	return free / (free - lost);
}

static void evolve(int n, const double *p, double *work, double *x, const double *u, const double *air,
	const double *outside, double *out) {
	const int head = HEAD_SIZE;
	const int stride = ROTOR_STRIDE;
	const int rotors = ROTORS;
	const int carry = WORK_CARRY;
	const double h = work[WORK_STEP];
	const double invMass = p[0];
	const double j00 = p[2];
	const double j11 = p[3];
	const double j22 = p[4];
	const double j01 = p[5];
	const double j02 = p[6];
	const double j12 = p[7];
	const double sagPower = p[15];
	const double estimatorRate = p[18];
	const double open = p[14];
	const double sagRoom = open * open - p[16];
	const double groundEffect = p[21];
	const double alike = p[22];
	const double roughness = air[AIR_ROUGHNESS];
	const double gravity = p[1];
	const double cx = p[8];
	const double cy = p[9];
	const double cz = p[10];
	const double dragX = p[11];
	const double dragY = p[12];
	const double dragZ = p[13];
	const double airP = air[AIR_ROTATION];
	const double airQ = air[AIR_ROTATION + 1];
	const double airR = air[AIR_ROTATION + 2];
	const double outTx = outside[0];
	const double outTy = outside[1];
	const double outTz = outside[2];
	const double outFx = outside[3];
	const double outFy = outside[4];
	const double outFz = outside[5];
	const bool four = n == 4 && alike == 1;
	const int at1 = head + stride;
	const int at2 = head + 2 * stride;
	const int at3 = head + 3 * stride;
	const double kT = p[head + 6];
	const double kQ = p[head + 7];
	const double kI = p[head + 8];
	const double kH = p[head + 9];
	const double up = p[head + 10];
	const double down = p[head + 11];
	const double lostPerLift = p[head + 18];
	const double perLift = p[head + 19];
	const double lowest = p[head + 20];
	const double jr = p[head + 22];
	const double rz = p[head + 2];
	const double rx0 = p[head];
	const double ry0 = p[head + 1];
	const double spin0 = p[head + 21];
	const double rx1 = p[at1];
	const double ry1 = p[at1 + 1];
	const double spin1 = p[at1 + 21];
	const double rx2 = p[at2];
	const double ry2 = p[at2 + 1];
	const double spin2 = p[at2 + 21];
	const double rx3 = p[at3];
	const double ry3 = p[at3 + 1];
	const double spin3 = p[at3 + 21];
	const double s0 = x[rotors];
	const double s1 = x[rotors + 1];
	const double s2 = x[rotors + 2];
	const double s3 = x[rotors + 3];
	const double u0 = u[0];
	double w0 = s0;
	double a0 = s0;
	const double u1 = u[1];
	double w1 = s1;
	double a1 = s1;
	const double u2 = u[2];
	double w2 = s2;
	double a2 = s2;
	const double u3 = u[3];
	double w3 = s3;
	double a3 = s3;
	// State at the step's start (0), at the stage, and the running sum (a).
	const double px0 = x[0];
	const double py0 = x[1];
	const double pz0 = x[2];
	const double vx0 = x[3];
	const double vy0 = x[4];
	const double vz0 = x[5];
	const double qw0 = x[6];
	const double qx0 = x[7];
	const double qy0 = x[8];
	const double qz0 = x[9];
	const double hx0 = x[10];
	const double hy0 = x[11];
	const double hz0 = x[12];
	const double er0 = x[16];
	const double ep0 = x[17];
	double pz = pz0;
	double vx = vx0;
	double vy = vy0;
	double vz = vz0;
	double qw = qw0;
	double qx = qx0;
	double qy = qy0;
	double qz = qz0;
	double hx = hx0;
	double hy = hy0;
	double hz = hz0;
	double er = er0;
	double ep = ep0;
	double avx = vx0;
	double avy = vy0;
	double avz = vz0;
	double aqw = qw0;
	double aqx = qx0;
	double aqy = qy0;
	double aqz = qz0;
	double ahx = hx0;
	double ahy = hy0;
	double ahz = hz0;
	double aer = er0;
	double aep = ep0;
	// What the position needs of the first slope and the last, and the low-pass of start, first slope and last.
	double firstX = 0;
	double firstY = 0;
	double firstZ = 0;
	double lastX = 0;
	double lastY = 0;
	double lastZ = 0;
	double gyroX = 0;
	double gyroY = 0;
	double gyroZ = 0;
	if (!four)
		for (int i = 0; i < n; i++) {
			const double w = x[rotors + i];
			work[i] = w;
			work[8 + i] = w;
		}
	const double ofStart = work[carry];
	const double ofFirst = work[carry + 1];
	const double ofLast = work[carry + 2];
	const double ofEnd = work[carry + 3];
	for (int stage = 0; ; stage++) {
		// What spins, and what it draws.
		double mx = hx;
		double my = hy;
		double mz = hz;
		double shaftPower = 0;
		if (four) {
			mz -= jr * (spin0 * w0 + spin1 * w1 + (spin2 * w2 + spin3 * w3));
			shaftPower = kQ * (w0 * w0 * w0 + w1 * w1 * w1 + (w2 * w2 * w2 + w3 * w3 * w3));
		} else
			for (int i = 0, at = head; i < n; i++, at += stride) {
				const double w = work[i];
				mx -= p[at + 12] * w;
				my -= p[at + 13] * w;
				mz -= p[at + 14] * w;
				shaftPower += p[at + 7] * (w * w * w);
			}
		double room = sagRoom - sagPower * shaftPower;
		if (room < 0) {
			room = 0;
			work[WORK_BROWN_OUT] = 1;
		}
		const double volts = 0.5 * (open + std::sqrt(room));
		const double wx = j00 * mx + j01 * my + j02 * mz;
		const double wy = j01 * mx + j11 * my + j12 * mz;
		const double wz = j02 * mx + j12 * my + j22 * mz;
		// Rotation matrix, body to world.
		const double qx2 = qx + qx;
		const double qy2 = qy + qy;
		const double qz2 = qz + qz;
		const double xx = qx * qx2;
		const double yy = qy * qy2;
		const double zz = qz * qz2;
		const double xy = qx * qy2;
		const double xz = qx * qz2;
		const double yz = qy * qz2;
		const double sx2 = qw * qx2;
		const double sy2 = qw * qy2;
		const double sz2 = qw * qz2;
		const double r00 = 1 - (yy + zz);
		const double r01 = xy - sz2;
		const double r02 = xz + sy2;
		const double r10 = xy + sz2;
		const double r11 = 1 - (xx + zz);
		const double r12 = yz - sx2;
		const double r20 = xz - sy2;
		const double r21 = yz + sx2;
		const double r22 = 1 - (xx + yy);
		// Velocity of the centre of mass relative to the air, body axes.
		const int airAt = stage == 0 ? 0 : stage == 3 ? 6 : 3;
		double ux = vx - air[airAt];
		double uy = vy - air[airAt + 1];
		double uz = vz - air[airAt + 2];
		if (roughness > 0) {
			const double share = std::log(std::fmax(-pz, roughness) / roughness) * air[AIR_SHEAR_SCALE];
			ux -= share * air[AIR_SHEARED];
			uy -= share * air[AIR_SHEARED + 1];
			uz -= share * air[AIR_SHEARED + 2];
		}
		const double bx = r00 * ux + r10 * uy + r20 * uz;
		const double by = r01 * ux + r11 * uy + r21 * uz;
		const double bz = r02 * ux + r12 * uy + r22 * uz;
		const double ax = wx - airP;
		const double ay = wy - airQ;
		const double az = wz - airR;
		// Airframe drag at the centre of pressure.
		const double sx = bx + ay * cz - az * cy;
		const double sy = by + az * cx - ax * cz;
		const double sz = bz + ax * cy - ay * cx;
		const double speed = std::sqrt(sx * sx + sy * sy + sz * sz);
		double fx = -dragX * speed * sx;
		double fy = -dragY * speed * sy;
		double fz = -dragZ * speed * sz;
		double tx = outTx + cy * fz - cz * fy;
		double ty = outTy + cz * fx - cx * fz;
		double tz = outTz + cx * fy - cy * fx;
		const double aNext = stage < 2 ? 0.5 * h : h;
		const double weight = stage == 0 || stage == 3 ? h / 6 : h / 3;
		double sdx = 0;
		double sdy = 0;
		double sdz = 0;
		if (four) {
			const double flatX = bx + ay * rz;
			const double flatY = by - ax * rz;
			const double flatUp = -(pz + r22 * rz);
			const double ix0 = flatX - az * ry0;
			const double iy0 = flatY + az * rx0;
			const double ww0 = w0 * w0;
			double lift0 = kT * ww0;
			if (groundEffect > 0)
				lift0 *= groundGain(
					lowest,
					perLift * ww0,
					lostPerLift * ww0,
					flatUp - (r20 * rx0 + r21 * ry0),
					ix0 * ix0 + iy0 * iy0
				);
			const double t0 = positive(lift0 + kI * w0 * (bz + ax * ry0 - ay * rx0));
			const double gx0 = w0 * ix0;
			const double gy0 = w0 * iy0;
			const double dw0 = lagged(volts * u0 - w0, up, down);
			const double ix1 = flatX - az * ry1;
			const double iy1 = flatY + az * rx1;
			const double ww1 = w1 * w1;
			double lift1 = kT * ww1;
			if (groundEffect > 0)
				lift1 *= groundGain(
					lowest,
					perLift * ww1,
					lostPerLift * ww1,
					flatUp - (r20 * rx1 + r21 * ry1),
					ix1 * ix1 + iy1 * iy1
				);
			const double t1 = positive(lift1 + kI * w1 * (bz + ax * ry1 - ay * rx1));
			const double gx1 = w1 * ix1;
			const double gy1 = w1 * iy1;
			const double dw1 = lagged(volts * u1 - w1, up, down);
			const double ix2 = flatX - az * ry2;
			const double iy2 = flatY + az * rx2;
			const double ww2 = w2 * w2;
			double lift2 = kT * ww2;
			if (groundEffect > 0)
				lift2 *= groundGain(
					lowest,
					perLift * ww2,
					lostPerLift * ww2,
					flatUp - (r20 * rx2 + r21 * ry2),
					ix2 * ix2 + iy2 * iy2
				);
			const double t2 = positive(lift2 + kI * w2 * (bz + ax * ry2 - ay * rx2));
			const double gx2 = w2 * ix2;
			const double gy2 = w2 * iy2;
			const double dw2 = lagged(volts * u2 - w2, up, down);
			const double ix3 = flatX - az * ry3;
			const double iy3 = flatY + az * rx3;
			const double ww3 = w3 * w3;
			double lift3 = kT * ww3;
			if (groundEffect > 0)
				lift3 *= groundGain(
					lowest,
					perLift * ww3,
					lostPerLift * ww3,
					flatUp - (r20 * rx3 + r21 * ry3),
					ix3 * ix3 + iy3 * iy3
				);
			const double t3 = positive(lift3 + kI * w3 * (bz + ax * ry3 - ay * rx3));
			const double gx3 = w3 * ix3;
			const double gy3 = w3 * iy3;
			const double dw3 = lagged(volts * u3 - w3, up, down);
			const double gx = kH * (gx0 + gx1 + (gx2 + gx3));
			const double gy = kH * (gy0 + gy1 + (gy2 + gy3));
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
			if (h == 0) {
				out[rotors + 0] = dw0;
				out[rotors + 1] = dw1;
				out[rotors + 2] = dw2;
				out[rotors + 3] = dw3;
			}
		} else
			for (int i = 0, at = head; i < n; i++, at += stride) {
				const double rx = p[at];
				const double ry = p[at + 1];
				const double rz = p[at + 2];
				const double nx = p[at + 3];
				const double ny = p[at + 4];
				const double nz = p[at + 5];
				const double w = work[i];
				const double ww = w * w;
				const double kx = bx + ay * rz - az * ry;
				const double ky = by + az * rx - ax * rz;
				const double kz = bz + ax * ry - ay * rx;
				const double axial = kx * nx + ky * ny + kz * nz;
				const double ix = kx - axial * nx;
				const double iy = ky - axial * ny;
				const double iz = kz - axial * nz;
				double lift = p[at + 6] * ww;
				if (groundEffect > 0)
					lift *= groundGain(
						p[at + 20],
						p[at + 19] * ww,
						p[at + 18] * ww,
						-(pz + r20 * rx + r21 * ry + r22 * rz),
						ix * ix + iy * iy + iz * iz
					);
				const double thrust = positive(lift - p[at + 8] * w * axial);
				const double drag = p[at + 9] * w;
				const double gx = thrust * nx - drag * ix;
				const double gy = thrust * ny - drag * iy;
				const double gz = thrust * nz - drag * iz;
				fx += gx;
				fy += gy;
				fz += gz;
				tx += ry * gz - rz * gy + p[at + 15] * ww;
				ty += rz * gx - rx * gz + p[at + 16] * ww;
				tz += rx * gy - ry * gx + p[at + 17] * ww;
				const double dw = lagged(volts * u[i] - w, p[at + 10], p[at + 11]);
				sdx += p[at + 12] * dw;
				sdy += p[at + 13] * dw;
				sdz += p[at + 14] * dw;
				if (h == 0) out[rotors + i] = dw;
				else {
					work[8 + i] = work[8 + i] + weight * dw;
					work[i] = x[rotors + i] + aNext * dw;
				}
			}
		// Derivatives of the rigid body.
		const double dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outFx);
		const double dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outFy);
		const double dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outFz);
		const double dhx = tx - wy * hz + wz * hy;
		const double dhy = ty - wz * hx + wx * hz;
		const double dhz = tz - wx * hy + wy * hx;
		const double halfX = 0.5 * wx;
		const double halfY = 0.5 * wy;
		const double halfZ = 0.5 * wz;
		const double dqw = -(qx * halfX + qy * halfY + qz * halfZ);
		const double dqx = qw * halfX + qy * halfZ - qz * halfY;
		const double dqy = qw * halfY + qz * halfX - qx * halfZ;
		const double dqz = qw * halfZ + qx * halfY - qy * halfX;
		double der = 0;
		double dep = 0;
		if (estimatorRate > 0) {
			// A complementary estimator leans towards the tilt that the specific force suggests.
			const double lx = r00 * dvx + r10 * dvy + r20 * dvz;
			const double ly = r01 * dvx + r11 * dvy + r21 * dvz;
			const double lz = r02 * dvx + r12 * dvy + r22 * dvz;
			const double seenRoll = std::atan2(-ly, -lz);
			const double seenPitch = std::atan2(lx, std::sqrt(ly * ly + lz * lz));
			der = p[19] + estimatorRate * (seenRoll - std::atan2(r21, r22) - er);
			dep = p[20] + estimatorRate * (seenPitch + std::asin(std::fmax(-1, std::fmin(1, r20))) - ep);
			aer += weight * der;
			aep += weight * dep;
			er = er0 + aNext * der;
			ep = ep0 + aNext * dep;
		}
		if (h == 0) {
			const double a = p[17];
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
			out[13] = a * (wx - x[13]);
			out[14] = a * (wy - x[14]);
			out[15] = a * (wz - x[15]);
			out[16] = der;
			out[17] = dep;
			return;
		}
		if (stage == 0) {
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
		if (stage == 3) {
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
	const double unit = 1.5 - 0.5 * (aqw * aqw + aqx * aqx + aqy * aqy + aqz * aqz);
	// h^2/6 (k1 + k2 + k3) from the velocity's own sum, v + h/6 (k1 + 2 k2 + 2 k3 + k4).
	const double half = 0.5 * h;
	const double bend = (h * h) / 12;
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
	double mx = ahx;
	double my = ahy;
	double mz = ahz;
	if (four) {
		x[rotors] = a0;
		x[rotors + 1] = a1;
		x[rotors + 2] = a2;
		x[rotors + 3] = a3;
		mz -= jr * (spin0 * a0 + spin1 * a1 + (spin2 * a2 + spin3 * a3));
	} else
		for (int i = 0, at = head; i < n; i++, at += stride) {
			const double w = work[8 + i];
			x[rotors + i] = w;
			mx -= p[at + 12] * w;
			my -= p[at + 13] * w;
			mz -= p[at + 14] * w;
		}
	gyroX += ofEnd * mx;
	gyroY += ofEnd * my;
	gyroZ += ofEnd * mz;
	const double decay = work[20];
	x[13] = decay * x[13] + (j00 * gyroX + j01 * gyroY + j02 * gyroZ);
	x[14] = decay * x[14] + (j01 * gyroX + j11 * gyroY + j12 * gyroZ);
	x[15] = decay * x[15] + (j02 * gyroX + j12 * gyroY + j22 * gyroZ);
	x[16] = aer;
	x[17] = aep;
}
