import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { formatQuantity } from "../units/format.ts";
import type { CraftInput } from "./input.ts";
import type { Limb } from "./limb-model.ts";
import { resolveSwing } from "./load-swing.ts";
import type { Load, MassProperties, Rotor } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";
import { type PartShare, sumParts } from "./parts.ts";
import { partsByRule } from "./parts-by-rule.ts";
import { pathInFile } from "./value-paths.ts";

/** [xx, yy, zz] or [xx, yy, zz, xy, xz, yz] to a matrix. */
export function inertiaMatrix(entries: readonly number[]): Mat3 {
	const [xx = 0, yy = 0, zz = 0, xy = 0, xz = 0, yz = 0] = entries;
	return [xx, xy, xz, xy, yy, yz, xz, yz, zz];
}

/**
 * Whether a mass distribution can have this inertia: the second moments (trace/2) 1 - J must not be negative in any
 * direction, which for principal axes is the triangle inequality.
 */
export function isPossibleInertia(j: Mat3): boolean {
	const half = (j[0] + j[4] + j[8]) / 2;
	const s = mat3.add(mat3.diagonal(half, half, half), mat3.scale(j, -1));
	const slack = 1e-9 * half;
	const minor = (a: number, b: number, c: number): number => s[a]! * s[b]! - s[c]! * s[c]!;
	return (
		half > 0 &&
		mat3.determinant(j) > 0 &&
		[0, 4, 8].every((i) => j[i]! > 0 && s[i]! >= -slack) &&
		minor(0, 4, 1) >= -slack * half &&
		minor(0, 8, 2) >= -slack * half &&
		minor(4, 8, 5) >= -slack * half &&
		mat3.determinant(s) >= -slack * half * half
	);
}

/** Where mass, centre of mass and inertia of the bare craft come from. */
export interface MassOrigin {
	readonly mass: "given" | "parts";
	readonly centreOfMass: "given" | "parts" | "assumed";
	readonly inertia: "given" | "parts" | "rule";
	/**
	 * What each line of the parts list gives to what comes 'parts', in the file's order; empty without a list. Brought to
	 * the mass where that is given beside the list. Masses add up to the craft's, moments to mass times centre of mass,
	 * inertias (about the parts' common centre) to the craft's.
	 */
	readonly shares: readonly PartShare[];
	/** What brings the parts' masses to the mass that is given; 1 where none is. */
	readonly partsScale: number;
}

type Sum = ReturnType<typeof sumParts>;
const sums = new WeakMap<NonNullable<CraftInput["parts"]>, Sum>();

/** The same list again and again while something else changes: summed once. */
function sumOf(parts: NonNullable<CraftInput["parts"]>): Sum {
	const known = sums.get(parts) ?? sumParts(parts);
	sums.set(parts, known);
	return known;
}

export function massOrigin(input: CraftInput): MassOrigin {
	const sum = input.parts === undefined ? null : sumOf(input.parts);
	const scale = sum === null || input.mass === undefined ? 1 : input.mass / sum.whole.massKg;
	const by = sum === null ? null : "parts";
	return {
		mass: input.mass !== undefined ? "given" : "parts",
		centreOfMass: input.centreOfMass !== undefined ? "given" : (by ?? "assumed"),
		inertia: input.inertia !== undefined ? "given" : (by ?? "rule"),
		partsScale: scale,
		shares: (sum?.shares ?? []).map((share) => ({
			...share,
			massKg: scale * share.massKg,
			momentKgM: vec3.scale(share.momentKgM, scale),
			inertiaKgM2: mat3.scale(share.inertiaKgM2, scale),
		})),
	};
}

/** Parts list first; then what is given directly; then the rule of `inertiaByRule`. */
export function resolveMass(input: CraftInput, rotors: readonly Rotor[], notes: Notes): MassProperties {
	const none: MassProperties = { massKg: 1, centreOfMassM: [0, 0, 0], inertiaKgM2: mat3.diagonal(1, 1, 1) };
	const parts = input.parts === undefined ? null : sumOf(input.parts).whole;
	const massKg = input.mass ?? parts?.massKg;
	if (massKg === undefined) {
		notes.problem("craft.mass", undefined, 'the mass ready to fly such as "1.2 kg", or a list of parts');
		return none;
	}
	if (parts !== null && input.mass !== undefined && Math.abs(parts.massKg / input.mass - 1) > 0.02)
		notes.problem(
			"craft.mass",
			input.mass,
			`the sum of the parts, ${formatQuantity("mass", parts.massKg)}, to within 2 %`,
			"leave 'mass' out, or add the part that is missing",
		);
	const scale = parts === null ? 1 : massKg / parts.massKg;
	const centreOfMassM = input.centreOfMass ?? parts?.centreOfMassM ?? assumedCentre(notes);
	const inertiaKgM2 =
		input.inertia !== undefined
			? inertiaMatrix(input.inertia)
			: parts !== null
				? mat3.scale(parts.inertiaKgM2, scale)
				: inertiaByRule(massKg, centreOfMassM, rotors, notes);
	if (!isPossibleInertia(inertiaKgM2)) impossibleInertia(input, rotors, notes);
	return { massKg, centreOfMassM, inertiaKgM2 };
}

function impossibleInertia(input: CraftInput, rotors: readonly Rotor[], notes: Notes): void {
	const some =
		"an inertia that some body can have: each principal moment positive and at most the sum of the other two";
	if (input.inertia !== undefined) notes.problem("craft.inertia", input.inertia, some);
	else if (input.parts !== undefined)
		notes.problem(
			"craft.parts",
			input.parts,
			some,
			"points on one line have no inertia about it; give a part a size",
		);
	else
		notes.problem(
			pathInFile("craft.rotors", input),
			rotors.map((rotor) => rotor.positionM),
			"rotors that stand apart",
			"where no inertia and no parts are given, it is taken from where the rotors are",
		);
}

function assumedCentre(notes: Notes): Vec3 {
	return notes.assumeWord<Vec3>(undefined, [0, 0, 0], {
		path: "craft.centreOfMass",
		value: "at the reference point, the middle of the rotors",
		because: "no position and no parts were given",
		source: COMMON,
		measure: "hang the craft by a string from two places, or balance it on an edge, battery in",
	});
}

/** Inertia of the parts that a craft is taken to be made of. */
function inertiaByRule(massKg: number, centre: Vec3, rotors: readonly Rotor[], notes: Notes): Mat3 {
	if (rotors.length === 0) return mat3.diagonal(1, 1, 1);
	const j = sumParts(partsByRule(massKg, rotors)).whole.inertiaKgM2;
	return notes.assumeWord(undefined, j, {
		path: "craft.inertia",
		value: `roll ${formatQuantity("inertia", j[0])}, pitch ${formatQuantity("inertia", j[4])}, yaw ${formatQuantity("inertia", j[8])}`,
		because: `30 % of the mass at the rotors, 10 % along the rods to them, 60 % in a central box; ${centre.some((x) => x !== 0) ? "taken about the centre of mass" : "symmetric"}`,
		source:
			"a rule of this project; 10 % low to 16 % high on the craft of Bouabdallah (2007), Luukkonen (2011) and Lee (2010)",
		measure:
			"hang the craft on two parallel strings, spacing D, length L, twist it and time T: I = m g D^2 T^2/(16 pi^2 L)",
	});
}

/** The heaviest load; without one, mass 0. */
export function resolveLoad(
	input: CraftInput,
	limb: Limb | undefined,
	feetBelowM: number,
	notes: Notes,
): Load {
	const load = input.load;
	if (load === undefined) return { massKg: 0, positionM: [0, 0, 0], inertiaKgM2: mat3.diagonal(0, 0, 0) };
	const z = feetBelowM / 2;
	const inGrip = limb !== undefined && load.position === undefined;
	const positionM =
		load.position ??
		(limb && vec3.add(limb.gripM, load.gripOffset ?? [0, 0, 0])) ??
		notes.assumeWord<Vec3>(undefined, [0, 0, z], {
			path: "craft.load.position",
			value: `${formatQuantity("length", z)} below the reference point`,
			because: "half way down to the feet",
			source: COMMON,
			measure: "a ruler, from the reference point to the middle of the load",
		});
	const hung = {
		...(inGrip && { inGrip }),
		...(load.gripOffset && { gripOffsetM: load.gripOffset }),
		...resolveSwing(load, notes),
	};
	if (load.inertia !== undefined) {
		const j = inertiaMatrix(load.inertia);
		if (load.mass > 0 && !isPossibleInertia(j))
			notes.problem(
				"craft.load.inertia",
				load.inertia,
				"each principal moment positive and at most the sum of the other two",
			);
		return {
			massKg: load.mass,
			positionM,
			inertiaKgM2: j,
			...(load.size !== undefined && { sizeM: load.size }),
			...hung,
		};
	}
	const size = notes.assume(load.size, "length", {
		path: "craft.load.size",
		value: Math.cbrt(load.mass / 1000),
		because: "a cube as dense as water",
		source: COMMON,
		measure: "a ruler",
	});
	const i = (load.mass * size * size) / 6;
	return { massKg: load.mass, positionM, inertiaKgM2: mat3.diagonal(i, i, i), sizeM: size, ...hung };
}
