import { Group, Mesh, MeshBasicMaterial, RingGeometry, SphereGeometry } from "three";
import type { PartInput } from "../../craft/input.ts";
import type { Craft } from "../../craft/model.ts";
import type { Vec3 } from "../../math/types.ts";
import * as vec3 from "../../math/vec3.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";
import { placeInPicture } from "./axes.ts";
import { arrow, craftBody, vector } from "./craft-body.ts";
import { reachM } from "./craft-solids.ts";
import { limbPlaces, limbReachM, loadPlace } from "./limb-places.ts";
import { coloursOf, dispose, type Label, Stage } from "./stage.ts";

export interface ShownCraft {
	readonly craft: Craft;
	readonly parts: readonly PartInput[];
	readonly poseRad: readonly number[];
	readonly loads: readonly CarriedLoad[];
	/** With limb and loads as they are. */
	readonly centreOfMassM: Vec3;
}

const LEVEL_DOWN: Vec3 = [0, 0, 1];

/** The craft at rest, named and numbered. */
export class CraftScene {
	readonly stage: Stage;
	readonly #host: HTMLElement;
	#shown = new Group();

	constructor(host: HTMLElement) {
		this.#host = host;
		this.stage = new Stage(host);
	}

	show({ craft, parts, poseRad, loads, centreOfMassM }: ShownCraft): void {
		dispose(this.#shown);
		const colours = coloursOf(this.#host);
		const group = new Group();
		const middle: Vec3 = [0, 0, 0];
		const size = Math.max(reachM(craft, middle), limbReachM(craft, middle));
		const body = craftBody({ craft, parts, colours, manner: "solid", ink: colours.ink });
		body.stand({ poseRad, loads, down: LEVEL_DOWN, centreM: middle });
		group.add(body.group);
		const ahead: Vec3 = [0.62 * size, 0, 0];
		const right: Vec3 = [0, 0.62 * size, 0];
		for (const end of [ahead, right])
			group.add(arrow(vector(middle), vector(end), colours.focus, 0.07 * size));
		group.add(...centreMark(centreOfMassM, 0.028 * size, colours.ink, colours.sheet));
		const labels: Label[] = [
			...craft.rotors.map(
				(rotor): Label => ({
					text: `${rotor.motorNumber} ${rotor.place}`,
					at: vector(rotor.positionM),
					kind: "rotor",
				}),
			),
			{ text: "forward", at: vector(vec3.scale(ahead, 1.16)), kind: "axis" },
			{ text: "right", at: vector(vec3.scale(right, 1.16)), kind: "axis" },
			{ text: "centre of mass", at: vector(vec3.add(centreOfMassM, [0, 0, 0.17 * size])), kind: "axis" },
			...loads.map(
				(load): Label => ({
					text: `load ${Math.round(1000 * load.massKg)} g`,
					at: vector(vec3.add(loadPlace(craft, load, poseRad, LEVEL_DOWN).middleM, [0, 0, 0.15 * size])),
					kind: "axis",
				}),
			),
			...(craft.limb && loads.length === 0
				? [
						{
							text: "grip",
							at: vector(vec3.add(limbPlaces(craft, poseRad).gripM, [0, 0, 0.15 * size])),
							kind: "axis" as const,
						},
					]
				: []),
		];
		this.#shown = group;
		this.stage.scene.add(group);
		this.stage.say(labels);
		this.stage.aim(placeInPicture(middle), 0.98 * size);
	}

	dispose(): void {
		this.stage.dispose();
	}
}

/** A ball with a ring, seen through everything. */
function centreMark(place: Vec3, radius: number, ink: string, sheet: string) {
	const ball = new Mesh(
		new SphereGeometry(radius, 16, 12),
		new MeshBasicMaterial({ color: sheet, depthTest: false }),
	);
	const core = new Mesh(
		new SphereGeometry(0.6 * radius, 16, 12),
		new MeshBasicMaterial({ color: ink, depthTest: false }),
	);
	const ring = new Mesh(
		new RingGeometry(1.5 * radius, 1.75 * radius, 32).rotateX(-Math.PI / 2),
		new MeshBasicMaterial({ color: ink, depthTest: false, side: 2 }),
	);
	const marks = [ball, core, ring];
	marks.forEach((mark, i) => {
		mark.position.copy(vector(place));
		mark.renderOrder = 10 + i;
	});
	return marks;
}
