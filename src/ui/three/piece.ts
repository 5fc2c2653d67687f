import {
	type BufferGeometry,
	EdgesGeometry,
	Group,
	type LineBasicMaterial,
	LineSegments,
	Mesh,
	MeshLambertMaterial,
	type Object3D,
} from "three";
import type { Colours } from "./stage.ts";

type PieceKind = "skin" | "limb" | "cargo";

/** Something solid with its edges drawn. */
export type PieceMaker = (geometry: BufferGeometry, kind: PieceKind) => Object3D;

/** @param outline edges alone */
export function pieceMaker(colours: Colours, lines: LineBasicMaterial, outline: boolean): PieceMaker {
	const cover = (color: string): MeshLambertMaterial =>
		new MeshLambertMaterial({
			color,
			polygonOffset: true,
			polygonOffsetFactor: 1,
			polygonOffsetUnits: 1,
		});
	const covers = { skin: cover(colours.mark), limb: cover(colours.quiet), cargo: cover(colours.quiet) };
	return (geometry, kind) => {
		const edges = new LineSegments(new EdgesGeometry(geometry, 30), lines);
		edges.computeLineDistances();
		const whole = outline ? new Group() : new Mesh(geometry, covers[kind]);
		if (outline) geometry.dispose();
		whole.add(edges);
		return whole;
	};
}
