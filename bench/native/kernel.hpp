// The equations and steps of src/physics/evolve.ts, line for line, to time JavaScript against -O3. Its answers are
// compared with the kernel's in every run of the bench.
#pragma once
#include <cmath>

constexpr int head = 23, stride = 23, rotors = 18, carry = 9, felt = 19, turning = 14, brownOut = 7, seconds = 8;

static double positive(double v) { return v < 0 ? 0 : v; }

static double lagged(double gap, double up, double down) { return gap * (gap > 0 ? up : down); }

static double groundGain(double lowest, double induced, double lost, double hubHeight, double sidewaysSquared) {
	const double height = hubHeight < lowest ? lowest : hubHeight;
	const double free = height * height * (induced + (sidewaysSquared + 1e-30));
	return free / (free - lost);
}

static void evolve(const double *p, double *work, double *x, const double *u, const double *air, const double *outside) {
	const double h = work[seconds];
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
	const double gravity = p[1];
	const double cx = p[8];
	const double cy = p[9];
	const double cz = p[10];
	const double dragX = p[11];
	const double dragY = p[12];
	const double dragZ = p[13];
	const double airP = air[turning];
	const double airQ = air[turning + 1];
	const double airR = air[turning + 2];
	const double outTx = outside[0];
	const double outTy = outside[1];
	const double outTz = outside[2];
	const double outFx = outside[3];
	const double outFy = outside[4];
	const double outFz = outside[5];
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
	const double u1 = u[1];
	double w1 = s1;
	const double u2 = u[2];
	double w2 = s2;
	const double u3 = u[3];
	double w3 = s3;
	// State at the step's start (0) and at the stage; the running sum grows in x itself.
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
	const double ofStart = work[carry];
	const double ofFirst = work[carry + 1];
	const double ofLast = work[carry + 2];
	const double ofEnd = work[carry + 3];
	for (int stage = 0; ; stage++) {
		// What spins, and what it draws.
		const double mz = hz - jr * (spin0 * w0 + spin1 * w1 + (spin2 * w2 + spin3 * w3));
		const double shaftPower = kQ * (w0 * w0 * w0 + w1 * w1 * w1 + (w2 * w2 * w2 + w3 * w3 * w3));
		double room = sagRoom - sagPower * shaftPower;
		if (room < 0) {
			room = 0;
			work[brownOut] = 1;
		}
		const double volts = 0.5 * (open + std::sqrt(room));
		const double wx = j00 * hx + j01 * hy + j02 * mz;
		const double wy = j01 * hx + j11 * hy + j12 * mz;
		const double wz = j02 * hx + j12 * hy + j22 * mz;
		const double aNext = stage < 2 ? 0.5 * h : h;
		const double weight = stage == 0 || stage == 3 ? h / 6 : h / 3;
		const double halfX = 0.5 * wx;
		const double halfY = 0.5 * wy;
		const double halfZ = 0.5 * wz;
		const double dqw = -(qx * halfX + qy * halfY + qz * halfZ);
		const double dqx = qw * halfX + qy * halfZ - qz * halfY;
		const double dqy = qw * halfY + qz * halfX - qx * halfZ;
		const double dqz = qw * halfZ + qx * halfY - qy * halfX;
		x[6] = x[6] + weight * dqw;
		x[7] = x[7] + weight * dqx;
		x[8] = x[8] + weight * dqy;
		x[9] = x[9] + weight * dqz;
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
		const double ux = vx - air[airAt];
		const double uy = vy - air[airAt + 1];
		const double uz = vz - air[airAt + 2];
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
				(rx0 * gy0 - ry0 * gx0 + (rx1 * gy1 - ry1 * gx1) + (rx2 * gy2 - ry2 * gx2 + (rx3 * gy3 - ry3 * gx3)));
		const double sdz = jr * (spin0 * dw0 + spin1 * dw1 + (spin2 * dw2 + spin3 * dw3));
		x[rotors] = x[rotors] + weight * dw0;
		w0 = s0 + aNext * dw0;
		x[rotors + 1] = x[rotors + 1] + weight * dw1;
		w1 = s1 + aNext * dw1;
		x[rotors + 2] = x[rotors + 2] + weight * dw2;
		w2 = s2 + aNext * dw2;
		x[rotors + 3] = x[rotors + 3] + weight * dw3;
		w3 = s3 + aNext * dw3;
		// Derivatives of the rigid body.
		const double dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outFx);
		const double dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outFy);
		const double dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outFz);
		const double dhx = tx - wy * hz + wz * hy;
		const double dhy = ty - wz * hx + wx * hz;
		const double dhz = tz - wx * hy + wy * hx;
		if (estimatorRate > 0) {
			const int at = felt + 6 * stage;
			work[at] = r00 * dvx + r10 * dvy + r20 * dvz;
			work[at + 1] = r01 * dvx + r11 * dvy + r21 * dvz;
			work[at + 2] = r02 * dvx + r12 * dvy + r22 * dvz;
			work[at + 3] = r20;
			work[at + 4] = r21;
			work[at + 5] = r22;
		}
		if (stage == 0) {
			firstX = dvx;
			firstY = dvy;
			firstZ = dvz;
			gyroX = ofStart * hx + ofFirst * dhx;
			gyroY = ofStart * hy + ofFirst * dhy;
			gyroZ = ofStart * mz + ofFirst * (dhz - sdz);
		}
		x[3] = x[3] + weight * dvx;
		x[4] = x[4] + weight * dvy;
		x[5] = x[5] + weight * (dvz + gravity);
		x[10] = x[10] + weight * dhx;
		x[11] = x[11] + weight * dhy;
		x[12] = x[12] + weight * dhz;
		if (stage == 3) {
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
	const double avx = x[3];
	const double avy = x[4];
	const double avz = x[5];
	// h^2/6 (k1 + k2 + k3) from the velocity's own sum, v + h/6 (k1 + 2 k2 + 2 k3 + k4).
	const double half = 0.5 * h;
	const double bend = (h * h) / 12;
	x[0] = px0 + half * (vx0 + avx) + bend * (firstX - lastX);
	x[1] = py0 + half * (vy0 + avy) + bend * (firstY - lastY);
	x[2] = pz0 + half * (vz0 + avz) + bend * (firstZ - lastZ);
	// One Newton step back to a unit quaternion: its drift is of the method's own order.
	const double aqw = x[6];
	const double aqx = x[7];
	const double aqy = x[8];
	const double aqz = x[9];
	const double unit = 1.5 - 0.5 * (aqw * aqw + aqx * aqx + aqy * aqy + aqz * aqz);
	x[6] = aqw * unit;
	x[7] = aqx * unit;
	x[8] = aqy * unit;
	x[9] = aqz * unit;
	// J^-1 of the body's own momentum, H - h, is its rates.
	gyroX += ofEnd * x[10];
	gyroY += ofEnd * x[11];
	gyroZ +=
		ofEnd *
		(x[12] -
			jr * (spin0 * x[rotors] + spin1 * x[rotors + 1] + (spin2 * x[rotors + 2] + spin3 * x[rotors + 3])));
	const double decay = work[4];
	x[13] = decay * x[13] + (j00 * gyroX + j01 * gyroY + j02 * gyroZ);
	x[14] = decay * x[14] + (j01 * gyroX + j11 * gyroY + j12 * gyroZ);
	x[15] = decay * x[15] + (j02 * gyroX + j12 * gyroY + j22 * gyroZ);
}
