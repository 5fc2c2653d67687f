import type { Random } from "../math/random.ts";
import type { Vec3 } from "../math/types.ts";
import { createDryden, type Dryden, drydenParameters } from "../physics/dryden.ts";
import { AIR_ROTATION, AIR_ROUGHNESS, AIR_SHEAR_SCALE, AIR_SHEARED } from "../physics/kernel-layout.ts";
import type { GustSpec, WindSpec } from "./drill.ts";

/** Turbulence is held between ticks of this length, whatever the steps. */
export const TURBULENCE_TICK_US = 2000;
/** The log law's and MIL-F-8785C's reference height, 20 ft. */
const REFERENCE_HEIGHT_M = 6.096;

/** Wind as the kernel reads it. */
export interface WindField {
	/** True while the air changes inside a step, so that `fill` is due before each. */
	readonly varying: boolean;
	readonly turbulent: boolean;
	readonly extrapolated: boolean;
	/** Instants at which a right-hand side changes its form: gust starts, tops and ends, us. */
	readonly boundariesUs: readonly number[];
	/** Start and end of the step that `fill` is asked about, s: in an array, since a number handed over is boxed. */
	readonly span: Float64Array;
	/** Air at three instants of the step. Allocates nothing. */
	fill(air: Float64Array): void;
	tick(): void;
}

/** Mean wind of a flight: the drill's own where it has one, else the operating point's. */
export function meanWind(spec: WindSpec, pointWindMPerSec: Vec3): Vec3 {
	return spec.meanMPerSec.some((v) => v !== 0) ? spec.meanMPerSec : pointWindMPerSec;
}

/** Gust velocity as a share of its peak: (1 - cos(pi t/rise))/2, then back down or held. */
export function gustShare(gust: GustSpec, timeSec: number): number {
	const t = timeSec - gust.atSec;
	if (t <= 0) return 0;
	if (t >= gust.riseSec && gust.ending === "holds") return 1;
	if (t >= 2 * gust.riseSec) return 0;
	return 0.5 * (1 - Math.cos((Math.PI * t) / gust.riseSec));
}

/** Log law over the reference height: ln(h/z0)/ln(20 ft/z0), 0 at the roughness length and below. */
export function shearShare(roughnessM: number, heightM: number): number {
	return Math.log(Math.max(heightM, roughnessM) / roughnessM) / Math.log(REFERENCE_HEIGHT_M / roughnessM);
}

function shear(roughnessM: number, meanMPerSec: Vec3, air: Float64Array): void {
	for (let k = 0; k < 3; k++) air[AIR_SHEARED + k] = meanMPerSec[k]!;
	air[AIR_ROUGHNESS] = roughnessM;
	air[AIR_SHEAR_SCALE] = 1 / Math.log(REFERENCE_HEIGHT_M / roughnessM);
}

/** The mean wind alone into a kernel's air array that is still empty. */
export function blowSteadily({ roughnessM }: WindSpec, meanMPerSec: Vec3, air: Float64Array): void {
	if (roughnessM !== null) shear(roughnessM, meanMPerSec, air);
	else for (let i = 0; i < 9; i++) air[i] = meanMPerSec[i % 3]!;
}

export function createWindField(
	spec: WindSpec,
	meanMPerSec: Vec3,
	heightM: number,
	spanM: number,
	random: Random,
): WindField {
	const sheared = spec.roughnessM !== null;
	const steady: Vec3 = sheared ? [0, 0, 0] : meanMPerSec;
	const share = sheared ? shearShare(spec.roughnessM ?? 1, heightM) : 1;
	const speed = Math.hypot(...meanMPerSec) * share;
	const parameters = spec.turbulence
		? drydenParameters(spec.turbulence.windAt20FtMPerSec, heightM, speed, spanM)
		: null;
	const dryden: Dryden | null = parameters
		? createDryden(parameters, TURBULENCE_TICK_US * 1e-6, random)
		: null;
	const level = Math.hypot(meanMPerSec[0], meanMPerSec[1]);
	const north = level > 0 ? meanMPerSec[0] / level : 1;
	const east = level > 0 ? meanMPerSec[1] / level : 0;
	const gusts = spec.gusts;
	const span = new Float64Array(2);
	return {
		varying: gusts.length > 0,
		turbulent: dryden !== null,
		extrapolated: parameters?.extrapolated ?? false,
		boundariesUs: gusts.flatMap((g) => {
			const rise = [g.atSec, g.atSec + g.riseSec];
			return (g.ending === "returns" ? [...rise, g.atSec + 2 * g.riseSec] : rise).map((t) =>
				Math.round(t * 1e6),
			);
		}),
		span,
		tick: () => dryden?.advance(),
		fill(air) {
			const startSec = span[0]!;
			const endSec = span[1]!;
			const t = dryden?.values;
			const tn = t ? north * t[0]! - east * t[1]! : 0;
			const te = t ? east * t[0]! + north * t[1]! : 0;
			const td = t ? t[2]! : 0;
			for (let stage = 0; stage < 3; stage++) {
				const time = startSec + 0.5 * stage * (endSec - startSec);
				let vn = steady[0] + tn;
				let ve = steady[1] + te;
				let vd = steady[2] + td;
				for (let i = 0; i < gusts.length; i++) {
					const gust = gusts[i]!;
					const s = gustShare(gust, time);
					vn += s * gust.velocityMPerSec[0];
					ve += s * gust.velocityMPerSec[1];
					vd += s * gust.velocityMPerSec[2];
				}
				air[3 * stage] = vn;
				air[3 * stage + 1] = ve;
				air[3 * stage + 2] = vd;
			}
			if (spec.roughnessM !== null) shear(spec.roughnessM, meanMPerSec, air);
			// Flights start heading north: the air's turning is taken into body axes at that heading.
			air[AIR_ROTATION] = t ? north * t[3]! - east * t[4]! : 0;
			air[AIR_ROTATION + 1] = t ? east * t[3]! + north * t[4]! : 0;
			air[AIR_ROTATION + 2] = t ? t[5]! : 0;
		},
	};
}
