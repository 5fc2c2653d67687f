import {
	BoxGeometry,
	BufferGeometry,
	CylinderGeometry,
	Group,
	Line,
	type LineBasicMaterial,
	Matrix4,
	type Object3D,
	Quaternion,
	Vector3,
} from "three";
import type { Craft } from "../../craft/model.ts";
import type { Mat3, Vec3 } from "../../math/types.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";
import { placeInPicture, turnedInPicture } from "./axes.ts";
import { type Bar, limbPlaces, loadEdgeM, loadPlace } from "./limb-places.ts";
import type { PieceMaker } from "./piece.ts";
import { dispose } from "./stage.ts";

const UP = new Vector3(0, 1, 0);
const CORD_RADIUS_M = 0.0015;
/** Of the level of a liquid to its load's, so that it is seen round about. */
const LEVEL_EDGE = 1.5;

const vector = (place: Vec3): Vector3 => new Vector3(...placeInPicture(place));

/** A bar of length 1 is put between two points. */
function stretch(piece: Object3D, { fromM, toM }: Pick<Bar, "fromM" | "toM">): void {
	const from = vector(fromM);
	const along = vector(toM).sub(from);
	const length = Math.max(1e-6, along.length());
	piece.position.copy(from).addScaledVector(along, 0.5);
	piece.quaternion.setFromUnitVectors(UP, along.divideScalar(length));
	piece.scale.set(1, length, 1);
}

function turn(piece: Object3D, turned: Mat3): void {
	const [x, y, z] = turnedInPicture(turned).map((each) => new Vector3(...each));
	piece.quaternion.copy(new Quaternion().setFromRotationMatrix(new Matrix4().makeBasis(x!, y!, z!)));
}

/** The limb and what hangs on the craft, in body axes as the picture has them. */
export class LimbBody {
	readonly group = new Group();
	readonly #craft: Craft;
	readonly #make: PieceMaker;
	readonly #tubes: Object3D[] = [];
	readonly #pins: Object3D[] = [];
	#ring: Line | null = null;
	readonly #ink: LineBasicMaterial;
	#cargo = new Group();
	#edges: readonly number[] = [];

	constructor(craft: Craft, make: PieceMaker, ink: LineBasicMaterial) {
		this.#craft = craft;
		this.#make = make;
		this.#ink = ink;
		this.group.add(this.#cargo);
		const { limb } = craft;
		if (!limb) return;
		const folded = limbPlaces(craft, []);
		const bar = ({ radiusM }: Bar, sides: number) =>
			make(new CylinderGeometry(radiusM, radiusM, 1, sides), "limb");
		this.#tubes = folded.tubes.map((each) => bar(each, 20));
		this.#pins = folded.pins.map((each) => bar(each, 14));
		const axis = vector(limb.links[limb.links.length - 1]!.axis);
		this.#ring = new Line(circle(axis, limb.gripRadiusM), ink);
		this.group.add(...this.#tubes, ...this.#pins, this.#ring);
	}

	/** @param hangs one per load, body axes: the way it hangs or sloshes */
	pose(poseRad: readonly number[], loads: readonly CarriedLoad[], hangs: readonly Vec3[]): void {
		const craft = this.#craft;
		if (craft.limb) {
			const places = limbPlaces(craft, poseRad);
			places.tubes.forEach((bar, i) => {
				stretch(this.#tubes[i]!, bar);
			});
			places.pins.forEach((bar, i) => {
				stretch(this.#pins[i]!, bar);
			});
			this.#ring!.position.copy(vector(places.gripM));
			turn(this.#ring!, places.turn);
		}
		const edges = loads.map((load) => loadEdgeM(craft, load));
		if (edges.join() !== this.#edges.join()) this.#carry(edges);
		loads.forEach((load, i) => {
			const place = loadPlace(craft, load, poseRad, hangs[i]!);
			const [cube, more] = this.#cargo.children[i]!.children;
			cube!.position.copy(vector(place.middleM));
			turn(cube!, place.turn);
			if (more && place.level) {
				more.position.copy(vector(place.middleM));
				turn(more, place.level);
			} else if (more) stretch(more, { fromM: place.heldM, toM: place.middleM });
		});
	}

	#carry(edges: readonly number[]): void {
		dispose(this.#cargo);
		this.#edges = edges;
		this.#cargo = new Group();
		for (const edge of edges) {
			const one = new Group();
			one.add(this.#make(new BoxGeometry(edge, edge, edge), "cargo"));
			if (this.#craft.load.tether)
				one.add(this.#make(new CylinderGeometry(CORD_RADIUS_M, CORD_RADIUS_M, 1, 6), "cargo"));
			if (this.#craft.load.liquid) one.add(new Line(square(LEVEL_EDGE * edge), this.#ink));
			this.#cargo.add(one);
		}
		this.group.add(this.#cargo);
	}
}

/** Lying level, in the picture's axes. */
function square(edge: number): BufferGeometry {
	const h = edge / 2;
	const corners = [-1, -1, 1, -1, 1, 1, -1, 1, -1, -1];
	return new BufferGeometry().setFromPoints(
		Array.from({ length: 5 }, (_, i) => new Vector3(h * corners[2 * i]!, 0, h * corners[2 * i + 1]!)),
	);
}

/** About a unit vector, in the picture's axes. */
function circle(axis: Vector3, radius: number): BufferGeometry {
	const side = new Vector3(1, 0, 0).cross(axis);
	if (side.length() < 0.1) side.set(0, 1, 0).cross(axis);
	side.setLength(radius);
	return new BufferGeometry().setFromPoints(
		Array.from({ length: 41 }, (_, i) => side.clone().applyAxisAngle(axis, (i * Math.PI) / 20)),
	);
}
