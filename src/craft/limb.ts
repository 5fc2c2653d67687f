import * as mat3 from "../math/mat3.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import { formatQuantity } from "../units/format.ts";
import type { CraftInput, LinkInput } from "./input.ts";
import type { Limb, LimbLink, LimbServo } from "./limb-model.ts";
import { combineBodies } from "./mass.ts";
import { inertiaMatrix, isPossibleInertia } from "./mass-from-input.ts";
import type { MassProperties } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";
import { partBodies } from "./parts.ts";

const DEG = Math.PI / 180;
const AXES: { readonly [word: string]: Vec3 } = { roll: [1, 0, 0], pitch: [0, 1, 0], yaw: [0, 0, 1] };

/** Drag coefficient of a long cylinder across the flow below its drag crisis (Hoerner, Fluid-Dynamic Drag, 1965, from memory). */
const CYLINDER_DRAG = 1.1;

/**
 * The limb, and the craft without it. Everything is described folded, every hinge at 0: the mass, centre of mass and inertia of the bare craft have the limb in them as it is
 * folded, and so has a parts list, whose entries a link names.
 */
export function resolveLimb(
	input: CraftInput,
	bare: MassProperties,
	partsScale: number,
	notes: Notes,
): Limb | undefined {
	const given = input.limb;
	if (given === undefined) return undefined;
	const before = notes.problems.length;
	const links = given.links.map((link, i) =>
		resolveLink(link, `craft.limb.links[${i}]`, input, partsScale, notes),
	);
	given.links.forEach(({ name }, i) => {
		if (given.links.findIndex((each) => each.name === name) < i)
			notes.problem(`craft.limb.links[${i}].name`, name, "a name that no other link has");
	});
	const named = new Map<string, string>();
	given.links.forEach(({ name, parts }, i) => {
		parts?.forEach((part, k) => {
			const other = named.get(part);
			if (other !== undefined)
				notes.problem(
					`craft.limb.links[${i}].parts[${k}]`,
					part,
					`a part that moves with one link only: it already moves with '${other}'`,
				);
			named.set(part, name);
		});
	});
	const frame = combineBodies([bare, ...links.map(({ mass }) => without(mass))]);
	if (notes.problems.length === before && !(frame.massKg > 0 && isPossibleInertia(frame.inertiaKgM2)))
		notes.problem(
			"craft.limb.links",
			formatQuantity("mass", bare.massKg - frame.massKg),
			"links lighter than the craft that carries them, their inertia within the craft's",
			"mass, centre of mass and inertia of the craft have the folded limb in them",
		);
	const last = links[links.length - 1]!;
	return {
		links,
		frame,
		gripM: given.grip ?? last.tipM,
		gripRadiusM: notes.assume(given.gripRadius, "length", {
			path: "craft.limb.gripRadius",
			value: 0.03,
			because: "room that the gripper, or what it holds, takes about the grip",
			source: COMMON,
			measure: "a ruler, from the grip to what stands out farthest",
		}),
	};
}

const without = ({ massKg, centreOfMassM, inertiaKgM2 }: MassProperties): MassProperties => ({
	massKg: -massKg,
	centreOfMassM,
	inertiaKgM2: mat3.scale(inertiaKgM2, -1),
});

function resolveLink(
	link: LinkInput,
	path: string,
	input: CraftInput,
	partsScale: number,
	notes: Notes,
): LimbLink {
	const given = typeof link.axis === "string" ? AXES[link.axis]! : link.axis;
	const size = vec3.length(given);
	if (!(size > 0)) notes.problem(`${path}.axis`, link.axis, 'a direction such as "pitch" or [0, 1, 0]');
	const length = vec3.length(vec3.subtract(link.tip, link.hinge));
	if (!(length > 0)) notes.problem(`${path}.tip`, link.tip, "a place away from the hinge");
	const diameterM = notes.assume(link.diameter, "length", {
		path: `${path}.diameter`,
		value: 0.016,
		because: "a light tube",
		source: COMMON,
		measure: "a ruler",
	});
	const travelRad: readonly [number, number] =
		link.travel ??
		notes.assumeWord<readonly [number, number]>(undefined, [-90 * DEG, 90 * DEG], {
			path: `${path}.travel`,
			value: "-90 to 90 deg from folded",
			because: "a common servo turns about half a circle",
			source: COMMON,
			measure: "turn it by hand, servo off, between its stops",
		});
	if (!(travelRad[0] <= 0 && travelRad[1] >= 0 && travelRad[1] > travelRad[0]))
		notes.problem(`${path}.travel`, link.travel, "[least, most] with 0 (folded) between them");
	if (link.servo?.play && link.servo.stiffness === undefined)
		notes.problem(`${path}.servo.play`, link.servo.play, 'a stiffness beside it, such as "5 N m/rad"');
	if (link.inertia && !isPossibleInertia(inertiaMatrix(link.inertia)))
		notes.problem(
			`${path}.inertia`,
			link.inertia,
			"each principal moment positive and at most the sum of the other two",
		);
	return {
		name: link.name,
		hingeM: link.hinge,
		axis: size > 0 ? vec3.scale(given, 1 / size) : [0, 1, 0],
		tipM: link.tip,
		diameterM,
		dragAreaM2: CYLINDER_DRAG * diameterM * length,
		mass: linkMass(link, path, input, partsScale, diameterM, notes),
		travelRad,
		servo: resolveServo(link.servo, `${path}.servo`, notes),
	};
}

function linkMass(
	link: LinkInput,
	path: string,
	input: CraftInput,
	partsScale: number,
	diameterM: number,
	notes: Notes,
): MassProperties {
	const none: MassProperties = {
		massKg: 1e-6,
		centreOfMassM: link.hinge,
		inertiaKgM2: mat3.diagonal(0, 0, 0),
	};
	if (input.parts !== undefined) {
		if (link.parts === undefined || link.parts.length === 0 || link.mass !== undefined) {
			notes.problem(
				`${path}.parts`,
				link.mass ?? link.parts,
				"the names of the entries of craft.parts that move with this link",
				"with a parts list its masses stand there",
			);
			return none;
		}
		const bodies = link.parts.flatMap((name, at) => {
			const part = input.parts!.find((each) => each.name === name);
			if (part === undefined)
				notes.problem(
					`${path}.parts[${at}]`,
					name,
					`a name from craft.parts: ${input.parts!.map((each) => each.name).join(", ")}`,
				);
			return part === undefined ? [] : partBodies(part);
		});
		if (bodies.length === 0) return none;
		const whole = combineBodies(bodies);
		return {
			massKg: whole.massKg * partsScale,
			centreOfMassM: whole.centreOfMassM,
			inertiaKgM2: mat3.scale(whole.inertiaKgM2, partsScale),
		};
	}
	if (link.mass === undefined) {
		notes.problem(`${path}.mass`, undefined, 'the mass of this link, such as "60 g"');
		return none;
	}
	const centreOfMassM = link.centreOfMass ?? vec3.scale(vec3.add(link.hinge, link.tip), 0.5);
	return {
		massKg: link.mass,
		centreOfMassM,
		inertiaKgM2: link.inertia ? inertiaMatrix(link.inertia) : rod(link, diameterM),
	};
}

/** Solid cylinder from hinge to tip about its middle: m r^2/2 along, m (3 r^2 + l^2)/12 across (handbook). */
function rod(link: LinkInput, diameterM: number): Mat3 {
	const m = link.mass ?? 0;
	const along = vec3.subtract(link.tip, link.hinge);
	const length = vec3.length(along);
	const n: Vec3 = length > 0 ? vec3.scale(along, 1 / length) : [1, 0, 0];
	const r2 = (diameterM / 2) ** 2;
	const across = (m * (3 * r2 + length * length)) / 12;
	const less = (m * r2) / 2 - across;
	return [
		across + less * n[0] * n[0],
		less * n[0] * n[1],
		less * n[0] * n[2],
		less * n[0] * n[1],
		across + less * n[1] * n[1],
		less * n[1] * n[2],
		less * n[0] * n[2],
		less * n[1] * n[2],
		across + less * n[2] * n[2],
	];
}

type ServoInput = NonNullable<LinkInput["servo"]>;

function resolveServo(given: ServoInput | undefined, path: string, notes: Notes): LimbServo {
	const measure = "film it against a protractor while it goes from one stop to the other";
	const usual = (
		key: keyof ServoInput,
		kind: Parameters<Notes["assume"]>[1],
		value: number,
		because: string,
		how = measure,
	): number =>
		notes.assume(given?.[key] as number | undefined, kind, {
			path: `${path}.${key}`,
			value,
			because,
			source: COMMON,
			measure: how,
		});
	const torqueLimitNm = usual(
		"torque",
		"torque",
		1,
		"a middling hobby servo",
		"hang a weight on a lever of known length until it gives",
	);
	return {
		rateLimitRadPerSec: usual("speed", "turnRate", 300 * DEG, "a middling hobby servo: 60 deg in 0.2 s"),
		torqueLimitNm,
		naturalRadPerSec: 2 * Math.PI * usual("frequency", "frequency", 4, "how fast it corrects small errors"),
		dampingRatio: given?.damping ?? 0.9,
		stiffnessNmPerRad: given?.stiffness ?? null,
		backlashRad: given?.play ?? 0,
		jitterRad: given?.jitter ?? 0,
		jitterHz: given?.jitterFrequency ?? 10,
		stallCurrentA: usual(
			"stallCurrent",
			"current",
			1.5,
			"a middling hobby servo",
			"its supply's current while it is held against its full torque",
		),
	};
}
