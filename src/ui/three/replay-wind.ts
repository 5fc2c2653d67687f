import type { WindSpec } from "../../flight/drill.ts";
import { gustShare, meanWind } from "../../flight/wind-field.ts";
import type { Vec3 } from "../../math/types.ts";
import * as vec3 from "../../math/vec3.ts";

/** Mean wind and gusts at an instant, north-east-down, m/s; turbulence and the thinning towards the ground left out. */
export function windAt(spec: WindSpec, pointWindMPerSec: Vec3, timeSec: number): Vec3 {
	return spec.gusts.reduce<Vec3>(
		(sum, gust) => vec3.add(sum, vec3.scale(gust.velocityMPerSec, gustShare(gust, timeSec))),
		meanWind(spec, pointWindMPerSec),
	);
}
