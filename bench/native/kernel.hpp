// The equations and steps of src/physics/evolve.ts, line for line, to time JavaScript against -O3. Its answers are
// compared with the kernel's in every run of the bench.
#pragma once
#include <cmath>

constexpr int HEAD_SIZE = 23, ROTOR_STRIDE = 21, ROTORS = 18, WORK_BROWN_OUT = 23, WORK_VOLTAGE = 24, WORK_STEP = 25;
constexpr int AIR_SHEARED = 9, AIR_ROUGHNESS = 12, AIR_SHEAR_SCALE = 13, AIR_ROTATION = 14;

static double positive(double v) { return v < 0 ? 0 : v; }

static double lagged(double gap, double up, double down) { return gap * (gap > 0 ? up : down); }

static double groundGain(double radiusSquared, double induced, double lowest, double hubHeight, double sidewaysSquared) {
	const double height = hubHeight < lowest ? lowest : hubHeight;
	const double over = 16 * height * height * (induced + sidewaysSquared);
	return over > 0 ? over / (over - radiusSquared * induced) : 1;
}

static void evolve(int n, const double *p, double *work, double *x, const double *u, const double *air,
	const double *outside, double *out) {
	const int head = HEAD_SIZE;
	const int stride = ROTOR_STRIDE;
	const int rotors = ROTORS;
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
	const double allUpright = p[22];
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
	// The common craft, four upright rotors, has each rotor's numbers in locals; others take the general loops.
	const bool four = n == 4 && allUpright == 1;
	const int at1 = head + stride;
	const int at2 = head + 2 * stride;
	const int at3 = head + 3 * stride;
	const int last = four ? rotors + 3 : rotors;
	const double rx0 = p[head];
	const double ry0 = p[head + 1];
	const double rz0 = p[head + 2];
	const double kT0 = p[head + 6];
	const double kQ0 = p[head + 7];
	const double kI0 = p[head + 8];
	const double kH0 = p[head + 9];
	const double up0 = p[head + 10];
	const double down0 = p[head + 11];
	const double jz0 = p[head + 14];
	const double yawK0 = p[head + 17];
	const double rr0 = p[head + 18];
	const double perLift0 = p[head + 19];
	const double lowest0 = p[head + 20];
	const double rx1 = p[at1];
	const double ry1 = p[at1 + 1];
	const double rz1 = p[at1 + 2];
	const double kT1 = p[at1 + 6];
	const double kQ1 = p[at1 + 7];
	const double kI1 = p[at1 + 8];
	const double kH1 = p[at1 + 9];
	const double up1 = p[at1 + 10];
	const double down1 = p[at1 + 11];
	const double jz1 = p[at1 + 14];
	const double yawK1 = p[at1 + 17];
	const double rr1 = p[at1 + 18];
	const double perLift1 = p[at1 + 19];
	const double lowest1 = p[at1 + 20];
	const double rx2 = p[at2];
	const double ry2 = p[at2 + 1];
	const double rz2 = p[at2 + 2];
	const double kT2 = p[at2 + 6];
	const double kQ2 = p[at2 + 7];
	const double kI2 = p[at2 + 8];
	const double kH2 = p[at2 + 9];
	const double up2 = p[at2 + 10];
	const double down2 = p[at2 + 11];
	const double jz2 = p[at2 + 14];
	const double yawK2 = p[at2 + 17];
	const double rr2 = p[at2 + 18];
	const double perLift2 = p[at2 + 19];
	const double lowest2 = p[at2 + 20];
	const double rx3 = p[at3];
	const double ry3 = p[at3 + 1];
	const double rz3 = p[at3 + 2];
	const double kT3 = p[at3 + 6];
	const double kQ3 = p[at3 + 7];
	const double kI3 = p[at3 + 8];
	const double kH3 = p[at3 + 9];
	const double up3 = p[at3 + 10];
	const double down3 = p[at3 + 11];
	const double jz3 = p[at3 + 14];
	const double yawK3 = p[at3 + 17];
	const double rr3 = p[at3 + 18];
	const double perLift3 = p[at3 + 19];
	const double lowest3 = p[at3 + 20];
	const double s0 = x[rotors];
	const double s1 = x[four ? rotors + 1 : rotors];
	const double s2 = x[four ? rotors + 2 : rotors];
	const double s3 = x[last];
	const double u0 = u[0];
	double w0 = s0;
	double a0 = s0;
	const double u1 = u[four ? 1 : 0];
	double w1 = s1;
	double a1 = s1;
	const double u2 = u[four ? 2 : 0];
	double w2 = s2;
	double a2 = s2;
	const double u3 = u[four ? 3 : 0];
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
	double apx = px0;
	double apy = py0;
	double apz = pz0;
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
	// The low-pass: rates at the step's start, weighted sum of (H - h)'.
	double wx0 = 0;
	double wy0 = 0;
	double wz0 = 0;
	double dgx = 0;
	double dgy = 0;
	double dgz = 0;
	if (!four)
		for (int i = 0; i < n; i++) {
			const double w = x[rotors + i];
			work[i] = w;
			work[8 + i] = w;
		}
	for (int stage = 0; stage < 4; stage++) {
		// What spins, and what it draws.
		double mx = hx;
		double my = hy;
		double mz = hz;
		double shaftPower = 0;
		if (four) {
			mz = mz - jz0 * w0 - jz1 * w1 - jz2 * w2 - jz3 * w3;
			shaftPower = kQ0 * (w0 * w0 * w0) + kQ1 * (w1 * w1 * w1) + kQ2 * (w2 * w2 * w2) + kQ3 * (w3 * w3 * w3);
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
		const double r00 = 1 - 2 * (qy * qy + qz * qz);
		const double r01 = 2 * (qx * qy - qw * qz);
		const double r02 = 2 * (qx * qz + qw * qy);
		const double r10 = 2 * (qx * qy + qw * qz);
		const double r11 = 1 - 2 * (qx * qx + qz * qz);
		const double r12 = 2 * (qy * qz - qw * qx);
		const double r20 = 2 * (qx * qz - qw * qy);
		const double r21 = 2 * (qy * qz + qw * qx);
		const double r22 = 1 - 2 * (qx * qx + qy * qy);
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
			const double ix0 = bx + ay * rz0 - az * ry0;
			const double iy0 = by + az * rx0 - ax * rz0;
			double lift0 = kT0 * (w0 * w0);
			if (groundEffect > 0)
				lift0 *= groundGain(
					rr0,
					perLift0 * (w0 * w0),
					lowest0,
					-(pz + r20 * rx0 + r21 * ry0 + r22 * rz0),
					ix0 * ix0 + iy0 * iy0
				);
			const double t0 = positive(lift0 + kI0 * w0 * (bz + ax * ry0 - ay * rx0));
			const double gx0 = -(kH0 * w0) * ix0;
			const double gy0 = -(kH0 * w0) * iy0;
			const double dw0 = lagged(volts * u0 - w0, up0, down0);
			const double ix1 = bx + ay * rz1 - az * ry1;
			const double iy1 = by + az * rx1 - ax * rz1;
			double lift1 = kT1 * (w1 * w1);
			if (groundEffect > 0)
				lift1 *= groundGain(
					rr1,
					perLift1 * (w1 * w1),
					lowest1,
					-(pz + r20 * rx1 + r21 * ry1 + r22 * rz1),
					ix1 * ix1 + iy1 * iy1
				);
			const double t1 = positive(lift1 + kI1 * w1 * (bz + ax * ry1 - ay * rx1));
			const double gx1 = -(kH1 * w1) * ix1;
			const double gy1 = -(kH1 * w1) * iy1;
			const double dw1 = lagged(volts * u1 - w1, up1, down1);
			const double ix2 = bx + ay * rz2 - az * ry2;
			const double iy2 = by + az * rx2 - ax * rz2;
			double lift2 = kT2 * (w2 * w2);
			if (groundEffect > 0)
				lift2 *= groundGain(
					rr2,
					perLift2 * (w2 * w2),
					lowest2,
					-(pz + r20 * rx2 + r21 * ry2 + r22 * rz2),
					ix2 * ix2 + iy2 * iy2
				);
			const double t2 = positive(lift2 + kI2 * w2 * (bz + ax * ry2 - ay * rx2));
			const double gx2 = -(kH2 * w2) * ix2;
			const double gy2 = -(kH2 * w2) * iy2;
			const double dw2 = lagged(volts * u2 - w2, up2, down2);
			const double ix3 = bx + ay * rz3 - az * ry3;
			const double iy3 = by + az * rx3 - ax * rz3;
			double lift3 = kT3 * (w3 * w3);
			if (groundEffect > 0)
				lift3 *= groundGain(
					rr3,
					perLift3 * (w3 * w3),
					lowest3,
					-(pz + r20 * rx3 + r21 * ry3 + r22 * rz3),
					ix3 * ix3 + iy3 * iy3
				);
			const double t3 = positive(lift3 + kI3 * w3 * (bz + ax * ry3 - ay * rx3));
			const double gx3 = -(kH3 * w3) * ix3;
			const double gy3 = -(kH3 * w3) * iy3;
			const double dw3 = lagged(volts * u3 - w3, up3, down3);
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
					lift *= groundGain(p[at + 18], p[at + 19] * ww, p[at + 20], -(pz + r20 * rx + r21 * ry + r22 * rz), ix * ix + iy * iy + iz * iz);
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
		const double dqw = -0.5 * (qx * wx + qy * wy + qz * wz);
		const double dqx = 0.5 * (qw * wx + qy * wz - qz * wy);
		const double dqy = 0.5 * (qw * wy + qz * wx - qx * wz);
		const double dqz = 0.5 * (qw * wz + qx * wy - qy * wx);
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
			wx0 = wx;
			wy0 = wy;
			wz0 = wz;
			work[WORK_VOLTAGE] = volts;
		}
		const double dense = work[16 + stage];
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
	const double unit = 1.5 - 0.5 * (aqw * aqw + aqx * aqx + aqy * aqy + aqz * aqz);
	const double decay = work[20];
	const double hold = work[21];
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
	x[13] = decay * x[13] + hold * wx0 + j00 * dgx + j01 * dgy + j02 * dgz;
	x[14] = decay * x[14] + hold * wy0 + j01 * dgx + j11 * dgy + j12 * dgz;
	x[15] = decay * x[15] + hold * wz0 + j02 * dgx + j12 * dgy + j22 * dgz;
	x[16] = aer;
	x[17] = aep;
	if (four) {
		x[rotors] = a0;
		x[rotors + 1] = a1;
		x[rotors + 2] = a2;
		x[rotors + 3] = a3;
	} else for (int i = 0; i < n; i++) x[rotors + i] = work[8 + i];
}
