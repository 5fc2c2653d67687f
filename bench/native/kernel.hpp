// The equations and steps of src/physics/kernel.ts, line for line, to time JavaScript against -O3. Its answers are
// compared with the kernel's in every run of the bench.
#pragma once
#include <cmath>

constexpr int HEAD_SIZE = 23, ROTOR_STRIDE = 21, ROTORS = 18, WORK_BROWN_OUT = 23, WORK_VOLTAGE = 24, WORK_STEP = 25;
constexpr int AIR_SHEARED = 9, AIR_ROUGHNESS = 12, AIR_SHEAR_SCALE = 13, AIR_ROTATION = 14;

static void evolve(int n, const double *p, double *work, double *x, const double *u, const double *air,
	const double *outside, double *out) {
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
	// Every axis (0, 0, -1): what multiplies by its zeros is left out.
	const double allUpright = p[22];
	const double roughness = air[AIR_ROUGHNESS];
	// State at the step's start (0), at the stage (s), and the running sum (a).
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
	for (int i = 0; i < n; i++) {
		const double w = x[ROTORS + i];
		work[i] = w;
		work[8 + i] = w;
	}
	for (int stage = 0; stage < 4; stage++) {
		// What spins, and what it draws.
		double mx = hx;
		double my = hy;
		double mz = hz;
		double shaftPower = 0;
		for (int i = 0, at = HEAD_SIZE; i < n; i++, at += ROTOR_STRIDE) {
			const double w = work[i];
			if (allUpright == 0) {
				mx -= p[at + 12] * w;
				my -= p[at + 13] * w;
			}
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
		const double ax = wx - air[AIR_ROTATION];
		const double ay = wy - air[AIR_ROTATION + 1];
		const double az = wz - air[AIR_ROTATION + 2];
		// Airframe drag at the centre of pressure.
		const double cx = p[8];
		const double cy = p[9];
		const double cz = p[10];
		const double sx = bx + ay * cz - az * cy;
		const double sy = by + az * cx - ax * cz;
		const double sz = bz + ax * cy - ay * cx;
		const double speed = std::sqrt(sx * sx + sy * sy + sz * sz);
		double fx = -p[11] * speed * sx;
		double fy = -p[12] * speed * sy;
		double fz = -p[13] * speed * sz;
		double tx = outside[0] + cy * fz - cz * fy;
		double ty = outside[1] + cz * fx - cx * fz;
		double tz = outside[2] + cx * fy - cy * fx;
		const double aNext = stage < 2 ? 0.5 * h : h;
		const double weight = stage == 0 || stage == 3 ? h / 6 : h / 3;
		double sdx = 0;
		double sdy = 0;
		double sdz = 0;
		for (int i = 0, at = HEAD_SIZE; i < n; i++, at += ROTOR_STRIDE) {
			const double rx = p[at];
			const double ry = p[at + 1];
			const double rz = p[at + 2];
			const double w = work[i];
			const double ww = w * w;
			const double kx = bx + ay * rz - az * ry;
			const double ky = by + az * rx - ax * rz;
			const double kz = bz + ax * ry - ay * rx;
			double axial = -kz;
			double ix = kx;
			double iy = ky;
			double iz = 0;
			if (allUpright == 0) {
				const double nx = p[at + 3];
				const double ny = p[at + 4];
				const double nz = p[at + 5];
				axial = kx * nx + ky * ny + kz * nz;
				ix = kx - axial * nx;
				iy = ky - axial * ny;
				iz = kz - axial * nz;
			}
			double thrust = p[at + 6] * ww;
			if (groundEffect > 0) {
				// Cheeseman and Bennett: 1 / (1 - (R/4z)^2 / (1 + (V/vh)^2)), z no less than R/2.
				const double height = std::fmax(-(pz + r20 * rx + r21 * ry + r22 * rz), p[at + 20]);
				const double induced = p[at + 19] * ww;
				const double over = 16 * height * height * (induced + ix * ix + iy * iy + iz * iz);
				if (over > 0) thrust *= over / (over - p[at + 18] * induced);
			}
			thrust -= p[at + 8] * w * axial;
			if (thrust < 0) thrust = 0;
			const double drag = p[at + 9] * w;
			double gx = -drag * ix;
			double gy = -drag * iy;
			double gz = -thrust;
			if (allUpright == 0) {
				gx += thrust * p[at + 3];
				gy += thrust * p[at + 4];
				gz = thrust * p[at + 5] - drag * iz;
				tx += p[at + 15] * ww;
				ty += p[at + 16] * ww;
			}
			fx += gx;
			fy += gy;
			fz += gz;
			tx += ry * gz - rz * gy;
			ty += rz * gx - rx * gz;
			tz += rx * gy - ry * gx + p[at + 17] * ww;
			const double gap = volts * u[i] - w;
			const double dw = gap * (gap > 0 ? p[at + 10] : p[at + 11]);
			if (allUpright == 0) {
				sdx += p[at + 12] * dw;
				sdy += p[at + 13] * dw;
			}
			sdz += p[at + 14] * dw;
			if (h == 0) out[ROTORS + i] = dw;
			else {
				work[8 + i] = work[8 + i] + weight * dw;
				work[i] = x[ROTORS + i] + aNext * dw;
			}
		}
		// Derivatives of the rigid body.
		const double dvx = invMass * (r00 * fx + r01 * fy + r02 * fz + outside[3]);
		const double dvy = invMass * (r10 * fx + r11 * fy + r12 * fz + outside[4]);
		const double dvz = invMass * (r20 * fx + r21 * fy + r22 * fz + outside[5]);
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
		const double gravity = p[1];
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
	for (int i = 0; i < n; i++) x[ROTORS + i] = work[8 + i];
}
