/**
 * What blade element and momentum theory say of one rotor in hover, from its thrust alone (Leishman, Principles of
 * Helicopter Aerodynamics, chapters 2, 3 and 4; from memory). Constant-pitch blades, uniform inflow, no tip loss.
 * CT = T/(rho A (W R)^2); sigma = blades x chord/(pi R); a: lift slope; lambda = sqrt(CT/2).
 */
export interface RotorShape {
	readonly radiusM: number;
	readonly blades: number;
	readonly chordM: number;
	readonly densityKgM3: number;
	/** N/(rad/s)^2 */
	readonly thrustCoefficient: number;
}

/** Lift slope per rad and profile drag of a small propeller's section: common practice, no source. */
export const LIFT_SLOPE = 5.7;
export const PROFILE_DRAG = 0.02;
/** Ideal hover power over shaft power of a small propeller: common practice 0.5 to 0.7, no source. */
export const FIGURE_OF_MERIT = 0.6;

interface Hover {
	readonly ct: number;
	readonly lambda: number;
	readonly sigmaA: number;
	readonly sigma: number;
	/** rho A R, kg. */
	readonly scaleKg: number;
}

function hover({ radiusM: r, blades, chordM, densityKgM3, thrustCoefficient }: RotorShape): Hover {
	const area = Math.PI * r * r;
	const ct = thrustCoefficient / (densityKgM3 * area * r * r);
	const sigma = (blades * chordM) / (Math.PI * r);
	return {
		ct,
		lambda: Math.sqrt(ct / 2),
		sigma,
		sigmaA: sigma * LIFT_SLOPE,
		scaleKg: densityKgM3 * area * r,
	};
}

/**
 * kI in T -= kI W v_ax, N/((rad/s)(m/s)). Blade element: dCT = -(sigma a/4) dlambda. Momentum, CT = 2 lambda (lambda -
 * lambda_c): dCT = 4 lambda dlambda - 2 lambda dlambda_c about hover. Together
 * -dCT/dlambda_c = 2 lambda/(1 + 16 lambda/(sigma a)), and kI = rho A R times that. A fixed-pitch rotor has the same
 * lambda at every speed, so kI does not depend on W. The induced velocity is taken to follow at once.
 */
export function inflowCoefficient(shape: RotorShape): number {
	const { lambda, sigmaA, scaleKg } = hover(shape);
	return (scaleKg * 2 * lambda) / (1 + (16 * lambda) / sigmaA);
}

/**
 * cH in F = -cH W v_inplane, N/((rad/s)(m/s)). Per advance ratio mu: profile drag sigma cd/4; drag of the inflow on
 * rigid blades sigma a lambda theta/4; tilt of the thrust where the blades flap freely, CT (8 theta/3 - 2 lambda); pitch
 * theta = 6 CT/(sigma a) + 3 lambda/2. cH = rho A R times the sum. Stiff blades flap less; measured craft
 * (Faessler, Franchi, Scaramuzza 2018) show as much or more, airframe included.
 */
export function inPlaneDragCoefficient(shape: RotorShape): number {
	const { ct, lambda, sigma, sigmaA, scaleKg } = hover(shape);
	const theta = (6 * ct) / sigmaA + 1.5 * lambda;
	const profile = (sigma * PROFILE_DRAG) / 4;
	const inflow = (sigmaA * lambda * theta) / 4;
	const flapping = ct * ((8 / 3) * theta - 2 * lambda);
	return scaleKg * (profile + inflow + flapping);
}

/**
 * kQ from kT by the figure of merit: P = T^1.5/(FM sqrt(2 rho A)) = kQ W^3, so kQ = kT^1.5/(FM sqrt(2 rho A)), N m/(rad/s)^2.
 */
export function torqueFromMerit({ radiusM, densityKgM3, thrustCoefficient }: RotorShape): number {
	return thrustCoefficient ** 1.5 / (FIGURE_OF_MERIT * Math.sqrt(2 * densityKgM3 * Math.PI * radiusM ** 2));
}
