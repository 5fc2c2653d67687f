import { resolveAir } from "./air.ts";
import { nominalCellV, resolveBattery, resolveCells } from "./battery.ts";
import { benchEfficiency } from "./bench-power.ts";
import type { CraftInput } from "./input.ts";
import { resolveRotors } from "./layout.ts";
import { resolveLimb } from "./limb.ts";
import { poseProblems } from "./limb-pose.ts";
import { type MassOrigin, massOrigin, resolveLoad, resolveMass } from "./mass-from-input.ts";
import type { Craft, Propulsion } from "./model.ts";
import { COMMON, Notes, type OddValue } from "./notes.ts";
import { oddValues } from "./odd-values.ts";
import { resolvePropulsion } from "./propulsion.ts";
import { resolveSafety, resolveSupply } from "./safety.ts";
import {
	resolveAirframe,
	resolveMixer,
	resolveSensors,
	resolveSticks,
	resolveUncertainty,
} from "./small-parts.ts";
import { resolveTiming } from "./timing.ts";
import { idleValues, pathInFile } from "./value-paths.ts";

export interface ResolvedCraft {
	/** Null where there are problems. */
	readonly craft: Craft | null;
	readonly notes: Notes;
	readonly massOrigin: MassOrigin;
	readonly odd: readonly OddValue[];
}

/** From what the builder gave to the complete craft; every default is written down. Never throws on bad input. */
export function resolveCraft(input: CraftInput): ResolvedCraft {
	const notes = new Notes();
	const rotors = resolveRotors(input, notes);
	const bare = resolveMass(input, rotors, notes);
	const cells = resolveCells(input.battery, input.propeller?.diameter ?? 0.25, notes);
	const propulsion = resolvePropulsion(input, cells * nominalCellV(input.battery), notes);
	const timing = resolveTiming(input, notes);
	const air = resolveAir(input, notes);
	const flies = propulsion !== null && rotors.length > 0;
	const hoverW = flies ? hoverShaftPower(bare.massKg, rotors.length, propulsion, air.densityKgM3) : 1;
	const efficiency = flies
		? benchEfficiency(
				input.motors ?? {},
				{ ...propulsion, hoverThrustN: (bare.massKg * 9.80665) / rotors.length },
				notes,
			)
		: null;
	const battery = resolveBattery(input.battery, cells, hoverW, efficiency, notes);
	const airframe = resolveAirframe(input, rotors, bare.centreOfMassM, notes);
	const origin = massOrigin(input);
	const limb = resolveLimb(input, bare, origin.partsScale, notes);
	const load = resolveLoad(input, limb, airframe.feetBelowM, notes);
	const sensors = resolveSensors(input, input.timing?.loop ?? 0.002, notes);
	const mixer = resolveMixer(input, rotors, notes);
	const sticks = resolveSticks(input, notes);
	const supply = resolveSupply(input.supply, battery, notes);
	const safety = resolveSafety(input.safety, notes);
	const uncertainty = resolveUncertainty(input, notes);
	if (input.load === undefined)
		notes.assumeWord(undefined, 0, {
			path: "craft.load",
			value: "none",
			because: "no load was given, so no gain is checked with one",
			source: COMMON,
			measure: "weigh the heaviest thing it will carry",
		});
	if (propulsion === null || timing === null || notes.problems.length > 0)
		return { craft: null, notes, odd: [], massOrigin: origin };
	const craft: Craft = {
		name: input.name ?? "unnamed craft",
		invented: input.invented ?? false,
		bare,
		load,
		...(limb && { limb }),
		rotors,
		propulsion,
		battery,
		air,
		airframe,
		timing,
		sensors,
		mixer,
		sticks,
		supply,
		safety,
		uncertainty,
	};
	if (limb)
		for (const [, problem] of poseProblems(
			craft,
			limb.links.map(() => 0),
		))
			notes.problem("craft.limb", "folded", `where it is folded, ${problem}`);
	return {
		craft: notes.problems.length > 0 ? null : craft,
		notes,
		odd: [
			...oddValues(craft).map(({ path, sentence }) => ({ path: pathInFile(path, input), sentence })),
			...idleValues(input),
		],
		massOrigin: origin,
	};
}

/** P = kQ W^3 per rotor at W = sqrt(m g/(n kT)), coefficients brought to the day's density. */
function hoverShaftPower(massKg: number, rotors: number, p: Propulsion, densityKgM3: number): number {
	const density = densityKgM3 / p.referenceDensityKgM3;
	const speed = Math.sqrt((massKg * 9.80665) / (rotors * p.thrustCoefficient * density));
	return rotors * p.torqueCoefficient * density * speed ** 3;
}
