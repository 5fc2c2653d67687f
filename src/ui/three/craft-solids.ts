import type { PartInput } from "../../craft/input.ts";
import type { Craft } from "../../craft/model.ts";
import { fromEuler } from "../../math/quaternion.ts";
import type { Quat, Vec3 } from "../../math/types.ts";
import * as vec3 from "../../math/vec3.ts";

/** Something solid in body axes: a box with its edges along its own x, y, z, or a cylinder along its own axis. */
export interface Solid {
	readonly name: string;
	readonly shape:
		| { readonly kind: "box"; readonly edgesM: Vec3 }
		| {
				readonly kind: "cylinder";
				readonly radiusM: number;
				readonly lengthM: number;
				readonly along: "x" | "z";
		  };
	readonly placeM: Vec3;
	readonly turn: Quat;
}

const ROD_RADIUS_M = 0.004;
const POINT_EDGE_M = 0.012;

function shapeOf(part: PartInput): Solid["shape"] {
	switch (part.shape) {
		case "point":
			return { kind: "box", edgesM: [POINT_EDGE_M, POINT_EDGE_M, POINT_EDGE_M] };
		case "box":
			return { kind: "box", edgesM: part.size };
		case "cylinder":
			return { kind: "cylinder", radiusM: part.diameter / 2, lengthM: part.length, along: "z" };
		case "rod":
			return { kind: "cylinder", radiusM: ROD_RADIUS_M, lengthM: part.length, along: "x" };
		case "tube":
			return { kind: "cylinder", radiusM: part.outerDiameter / 2, lengthM: part.length, along: "x" };
	}
}

/** Every part at every place it stands at. */
export function partSolids(parts: readonly PartInput[]): Solid[] {
	return parts.flatMap((part) =>
		(part.at ?? [part.position ?? ([0, 0, 0] as const)]).map((placeM) => ({
			name: part.name,
			shape: shapeOf(part),
			placeM,
			turn: fromEuler(part.orientation ?? [0, 0, 0]),
		})),
	);
}

/** A thin rod from one point to another. */
export function rodBetween(name: string, from: Vec3, to: Vec3): Solid {
	const [x, y, z] = vec3.subtract(to, from);
	const lengthM = Math.hypot(x, y, z);
	return {
		name,
		shape: { kind: "cylinder", radiusM: ROD_RADIUS_M, lengthM, along: "x" },
		placeM: vec3.scale(vec3.add(from, to), 0.5),
		turn: fromEuler([0, Math.atan2(-z, Math.hypot(x, y)), Math.atan2(y, x)]),
	};
}

/** Without a parts list: a plain body, a rod to every rotor and one to every foot, at places that are known. */
function plainSolids({ rotors, airframe, propulsion }: Craft): Solid[] {
	const edge = 0.5 * propulsion.radiusM;
	return [
		{
			name: "body",
			shape: { kind: "box", edgesM: [1.6 * edge, edge, 0.6 * edge] },
			placeM: [0, 0, 0],
			turn: [1, 0, 0, 0],
		},
		...rotors.map((rotor) => rodBetween(`rod to ${rotor.place}`, [0, 0, 0], rotor.positionM)),
		...airframe.feetM.map(([x, y, z]) => rodBetween("leg", [x, y, 0], [x, y, z])),
	];
}

export function craftSolids(craft: Craft, parts: readonly PartInput[]): Solid[] {
	return parts.length > 0 ? partSolids(parts) : plainSolids(craft);
}

/** How far the farthest thing is from a point, propellers and feet included. */
export function reachM(craft: Craft, from: Vec3): number {
	const tips = craft.rotors.map(
		(rotor) => vec3.length(vec3.subtract(rotor.positionM, from)) + craft.propulsion.radiusM,
	);
	const feet = craft.airframe.feetM.map((foot) => vec3.length(vec3.subtract(foot, from)));
	return Math.max(...tips, ...feet);
}

/**
 * The swept edge: points of an arc on a disc's rim in body axes, from the arc's start to where its arrow head stands, in
 * the direction of spin. Seen from above forward is up and right is right, so that clockwise goes from forward to right.
 */
export function sweptArc(
	centre: Vec3,
	axis: Vec3,
	radius: number,
	spin: 1 | -1,
	points: number,
	startRad = 0.35,
	sweepRad = 1.75 * Math.PI,
): Vec3[] {
	// Across the disc: forward and right made square to the axis of thrust, which points up.
	const ahead = unit(vec3.subtract([1, 0, 0], vec3.scale(axis, axis[0])));
	const right = vec3.cross(ahead, axis);
	return Array.from({ length: points }, (_, i) => {
		const angle = spin * (startRad + (sweepRad * i) / (points - 1));
		return vec3.add(
			centre,
			vec3.add(vec3.scale(ahead, radius * Math.cos(angle)), vec3.scale(right, radius * Math.sin(angle))),
		);
	});
}

const unit = (v: Vec3): Vec3 => vec3.scale(v, 1 / vec3.length(v));
