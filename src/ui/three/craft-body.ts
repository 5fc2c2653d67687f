import {
	BoxGeometry,
	BufferGeometry,
	CircleGeometry,
	ConeGeometry,
	CylinderGeometry,
	DoubleSide,
	type BufferGeometry as Geometry,
	Group,
	Line,
	LineBasicMaterial,
	LineDashedMaterial,
	Mesh,
	MeshBasicMaterial,
	Object3D,
	Quaternion,
	SphereGeometry,
	Vector3,
} from "three";
import type { PartInput } from "../../craft/input.ts";
import type { Craft } from "../../craft/model.ts";
import type { Vec3 } from "../../math/types.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";
import { placeInPicture, turnInPicture } from "./axes.ts";
import { craftSolids, type Solid, sweptArc } from "./craft-solids.ts";
import { LimbBody } from "./limb-body.ts";
import { pieceMaker } from "./piece.ts";
import type { Colours } from "./stage.ts";

export interface CraftBody {
	/** In body axes as the picture has them, its origin at the centre that it stands about. */
	readonly group: Group;
	readonly discs: readonly Mesh<CircleGeometry, MeshBasicMaterial>[];
	/** At the middle of each rotor's disc. */
	readonly hubs: readonly Object3D[];
	/** To be called before it is seen, and whenever limb or loads are elsewhere. */
	stand(as: Standing): void;
}

/** How it stands at an instant, body axes. */
export interface Standing {
	readonly poseRad: readonly number[];
	readonly loads: readonly CarriedLoad[];
	/** One per load: the way from where it is held to it while it hangs, or to what of it sloshes. */
	readonly hangs: readonly Vec3[];
	/** Point that the group turns about. */
	readonly centreM: Vec3;
}

export interface Drawn {
	readonly craft: Craft;
	readonly parts: readonly PartInput[];
	readonly colours: Colours;
	/** 'outline': dashed edges alone, as the second of two. */
	readonly manner: "solid" | "outline";
	readonly ink: string;
}

export const vector = (place: Vec3): Vector3 => new Vector3(...placeInPicture(place));

function geometryOf({ shape }: Solid): Geometry {
	if (shape.kind === "box") {
		const [ahead, across, up] = shape.edgesM;
		return new BoxGeometry(across, up, ahead);
	}
	const geometry = new CylinderGeometry(shape.radiusM, shape.radiusM, shape.lengthM, 20);
	// A cylinder of three stands upright, as one along body z does; along body x it lies.
	return shape.along === "x" ? geometry.rotateX(Math.PI / 2) : geometry;
}

/** What was built, from its numbers. */
export function craftBody(drawn: Drawn): CraftBody {
	const { craft, parts, colours, manner, ink } = drawn;
	const group = new Group();
	const inner = new Group();
	group.add(inner);
	const outline = manner === "outline";
	const lines = outline
		? new LineDashedMaterial({ color: ink, dashSize: 0.018, gapSize: 0.011 })
		: new LineBasicMaterial({ color: ink });
	const make = pieceMaker(colours, lines, outline);
	for (const solid of craftSolids(craft, parts)) {
		const piece = make(geometryOf(solid), "skin");
		piece.position.copy(vector(solid.placeM));
		piece.quaternion.copy(new Quaternion(...turnInPicture(solid.turn)));
		inner.add(piece);
	}
	const limb = new LimbBody(craft, make, lines);
	inner.add(limb.group);
	const discs = craft.rotors.map((rotor) => {
		const disc = rotorDisc(rotor, craft.propulsion.radiusM, colours, ink, outline);
		inner.add(...disc.all);
		return disc.face;
	});
	for (const foot of craft.airframe.feetM) {
		const mark = new Mesh(
			new SphereGeometry(0.012 * reach(craft), 10, 6),
			new MeshBasicMaterial({ color: ink }),
		);
		mark.position.copy(vector(foot));
		if (!outline) inner.add(mark);
	}
	return {
		group,
		discs,
		hubs: discs.map((_, i) => {
			const hub = new Object3D();
			hub.position.copy(vector(craft.rotors[i]!.positionM));
			inner.add(hub);
			return hub;
		}),
		stand({ poseRad, loads, hangs, centreM }) {
			inner.position.copy(vector(centreM)).negate();
			limb.pose(poseRad, loads, hangs);
		},
	};
}

const reach = (craft: Craft): number =>
	Math.max(...craft.rotors.map((rotor) => Math.hypot(...rotor.positionM)));

const ARC_POINTS = 56;

function rotorDisc(
	{ positionM, axis, spin }: Craft["rotors"][number],
	radius: number,
	colours: Colours,
	ink: string,
	outline: boolean,
) {
	const thrust = vector(axis);
	const face = new Mesh(
		new CircleGeometry(radius, 48),
		new MeshBasicMaterial({
			color: outline ? ink : colours.quiet,
			transparent: true,
			opacity: outline ? 0 : 0.12,
			side: DoubleSide,
			depthWrite: false,
		}),
	);
	face.position.copy(vector(positionM));
	face.quaternion.setFromUnitVectors(new Vector3(0, 0, 1), thrust);
	const arc = sweptArc(positionM, axis, radius, spin, ARC_POINTS).map(vector);
	const rim = new Line(
		new BufferGeometry().setFromPoints(arc),
		outline
			? new LineDashedMaterial({ color: ink, dashSize: 0.1 * radius, gapSize: 0.07 * radius })
			: new LineBasicMaterial({ color: ink }),
	);
	rim.computeLineDistances();
	const head = new Mesh(
		new ConeGeometry(0.09 * radius, 0.28 * radius, 14),
		new MeshBasicMaterial({ color: ink }),
	);
	const tip = arc[arc.length - 1]!;
	head.position.copy(tip);
	head.quaternion.setFromUnitVectors(
		new Vector3(0, 1, 0),
		tip
			.clone()
			.sub(arc[arc.length - 2]!)
			.normalize(),
	);
	return { face, all: outline ? [face, rim] : [face, rim, head] };
}

/** An arrow from a point along a direction: shaft and head. */
export function arrow(from: Vector3, to: Vector3, colour: string, headLength: number): Group {
	const group = new Group();
	const along = to.clone().sub(from);
	if (along.length() < 1e-9) return group;
	group.add(
		new Line(new BufferGeometry().setFromPoints([from, to]), new LineBasicMaterial({ color: colour })),
	);
	const head = new Mesh(
		new ConeGeometry(0.3 * headLength, headLength, 14),
		new MeshBasicMaterial({ color: colour }),
	);
	head.position.copy(to);
	head.quaternion.setFromUnitVectors(new Vector3(0, 1, 0), along.normalize());
	group.add(head);
	return group;
}
