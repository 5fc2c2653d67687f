import { poseProblems } from "../craft/limb-pose.ts";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../craft/model.ts";
import { COMMON, type Notes } from "../craft/notes.ts";
import type { NamedPoint } from "./model.ts";
import type { PointInput } from "./schema.ts";

/** Operating points of the file; where it has none: nominal, full, nearly empty, and loaded where there is a load. */
export function resolvePoints(
	points: readonly PointInput[] | undefined,
	craft: Craft,
	notes: Notes,
): NamedPoint[] {
	if (points === undefined || points.length === 0) {
		const standard: NamedPoint[] = [
			{ name: "nominal", point: NOMINAL_POINT },
			{ name: "full battery", point: { ...NOMINAL_POINT, battery: "full" } },
			{ name: "nearly empty", point: { ...NOMINAL_POINT, battery: "nearlyEmpty" } },
			...(craft.load.massKg > 0
				? [{ name: "heaviest load", point: { ...NOMINAL_POINT, load: "heaviest" as const } }]
				: []),
		];
		return notes.assumeWord(undefined, standard, {
			path: "operatingPoints",
			value: standard.map((each) => each.name).join(", "),
			because: "no operating points were given",
			source: COMMON,
			measure: "write your own operating points",
		});
	}
	const seen = new Set<string>();
	return points.map((input, i) => {
		if (seen.has(input.name))
			notes.problem(`operatingPoints[${i}].name`, input.name, "a name that no other point has");
		seen.add(input.name);
		if (input.limb !== undefined)
			for (const [at, problem] of poseProblems(craft, input.limb))
				notes.problem(`operatingPoints[${i}].limb${at}`, input.limb, problem);
		return { name: input.name, point: resolvePoint(input) };
	});
}

function resolvePoint(input: PointInput): OperatingPoint {
	const { battery, load, throttle } = input;
	return {
		battery: battery ?? NOMINAL_POINT.battery,
		load: typeof load === "object" ? { massKg: load.mass } : (load ?? NOMINAL_POINT.load),
		throttle: throttle ?? NOMINAL_POINT.throttle,
		windMPerSec: input.wind ?? NOMINAL_POINT.windMPerSec,
		inertiaFactor: input.inertiaFactor ?? 1,
		thrustFactor: input.thrustFactor ?? 1,
		motorLagFactor: input.motorLagFactor ?? 1,
		motorLag: input.motorLag ?? NOMINAL_POINT.motorLag,
		...(input.limb && { limbRad: input.limb }),
	};
}
