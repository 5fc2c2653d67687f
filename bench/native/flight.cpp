// A flight of a 1 kHz cascade loop over the kernel, as in bench/kernel.ts. Input: numbers on stdin (loop 24, parameters,
// scratch, state, air, outside load), flights to fly. Output: seconds of processor time a flight, then the final state.
#include "kernel.hpp"
#include <cstdio>
#include <ctime>
#include <vector>

struct Loop {
	double kAngle, kp, ki, kd, kpYaw, kiYaw, decay, rateLimit, outputLimit, throttle, lowest;
	double c0, w0, slope, period, rollSetPoint;
};

static double clamp(double v, double limit) { return v > limit ? limit : v < -limit ? -limit : v; }

static void fly(const Loop &l, const double *table, const double *p, double *work, double *x, const double *air,
	const double *outside, int ticks) {
	double command[4], integralP = 0, integralQ = 0, integralR = 0, slopeP = 0, slopeQ = 0, beforeP = 0, beforeQ = 0;
	for (int tick = 0; tick < ticks; tick++) {
		const double qw = x[6], qx = x[7], qy = x[8], qz = x[9];
		const double roll = std::atan2(2 * (qy * qz + qw * qx), 1 - 2 * (qx * qx + qy * qy));
		const double pitch = std::asin(2 * (qw * qy - qx * qz));
		const double p13 = x[13], q14 = x[14], r15 = x[15];
		const double errorP = clamp(l.kAngle * (l.rollSetPoint - roll), l.rateLimit) - p13;
		const double errorQ = clamp(l.kAngle * -pitch, l.rateLimit) - q14;
		const double errorR = clamp(l.kAngle * 0, l.rateLimit) - r15;
		integralP += l.ki * errorP * l.period;
		integralQ += l.ki * errorQ * l.period;
		integralR += l.kiYaw * errorR * l.period;
		slopeP = l.decay * slopeP - (1 - l.decay) * (p13 - beforeP) / l.period;
		slopeQ = l.decay * slopeQ - (1 - l.decay) * (q14 - beforeQ) / l.period;
		beforeP = p13;
		beforeQ = q14;
		const double uP = clamp(l.kp * errorP + integralP + l.kd * slopeP, l.outputLimit);
		const double uQ = clamp(l.kp * errorQ + integralQ + l.kd * slopeQ, l.outputLimit);
		const double uR = clamp(l.kpYaw * errorR + integralR, l.outputLimit);
		for (int i = 0; i < 4; i++) {
			const double c = l.throttle + table[3 * i] * uP + table[3 * i + 1] * uQ + table[3 * i + 2] * uR;
			command[i] = l.w0 + l.slope * ((c < l.lowest ? l.lowest : c > 1 ? 1 : c) - l.c0);
		}
		evolve(p, work, x, command, air, outside);
	}
}

static void take(double *to, int count) {
	for (int i = 0; i < count; i++)
		if (std::scanf("%lf", to + i) != 1) std::fprintf(stderr, "flight: input too short\n");
}

int main() {
	double loop[16], table[12], p[head + 4 * stride], work[43], start[22], air[17], outside[6], flights, ticks;
	take(loop, 16), take(table, 12), take(p, head + 4 * stride), take(work, 43), take(start, 22);
	take(air, 17), take(outside, 6), take(&flights, 1), take(&ticks, 1);
	double x[22];
	const std::clock_t from = std::clock();
	for (int f = 0; f < (int)flights; f++) {
		for (int i = 0; i < 22; i++) x[i] = start[i];
		fly(*(const Loop *)loop, table, p, work, x, air, outside, (int)ticks);
	}
	const double spent = double(std::clock() - from) / CLOCKS_PER_SEC;
	std::printf("%.17g", spent / flights);
	for (int i = 0; i < 22; i++) std::printf(" %.17g", x[i]);
}
