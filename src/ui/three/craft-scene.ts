import { Group, Mesh, MeshBasicMaterial, RingGeometry, SphereGeometry } from "three";
import type { PartInput } from "../../craft/input.ts";
import type { Craft } from "../../craft/model.ts";
import type { Vec3 } from "../../math/types.ts";
import * as vec3 from "../../math/vec3.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";
import { placeInPicture } from "./axes.ts";
import { arrow, type CraftBody, craftBody, vector } from "./craft-body.ts";
import { reachM } from "./craft-solids.ts";
import { hangReachM, limbPlaces, limbReachM, loadPlace } from "./limb-places.ts";
import { type Colours, coloursOf, dispose, type Label, Stage } from "./stage.ts";

export interface ShownCraft {
	readonly craft: Craft;
	readonly parts: readonly PartInput[];
	readonly poseRad: readonly number[];
	readonly loads: readonly CarriedLoad[];
	/** With limb and loads as they are. */
	readonly centreOfMassM: Vec3;
}

const LEVEL_DOWN: Vec3 = [0, 0, 1];

interface Built {
	readonly craft: Craft;
	readonly parts: readonly PartInput[];
	readonly colours: Colours;
	readonly body: CraftBody;
	readonly marks: readonly Mesh[];
}

const sameBuild = (
	built: Built | null,
	craft: Craft,
	parts: readonly PartInput[],
	colours: Colours,
): boolean =>
	built !== null &&
	built.craft === craft &&
	built.colours.paper === colours.paper &&
	built.parts.length === parts.length &&
	built.parts.every((part, i) => part === parts[i]);

/** The craft at rest, named and numbered. */
export class CraftScene {
	readonly stage: Stage;
	readonly #host: HTMLElement;
	#shown = new Group();
	#built: Built | null = null;

	constructor(host: HTMLElement) {
		this.#host = host;
		this.stage = new Stage(host);
	}

	show({ craft, parts, poseRad, loads, centreOfMassM }: ShownCraft): void {
		const colours = coloursOf(this.#host);
		const middle: Vec3 = [0, 0, 0];
		const size = Math.max(reachM(craft, middle), limbReachM(craft, middle));
		const ahead: Vec3 = [0.62 * size, 0, 0];
		const right: Vec3 = [0, 0.62 * size, 0];
		// What only moves is not built again: new materials would be compiled at every step of a drag.
		if (!sameBuild(this.#built, craft, parts, colours)) {
			dispose(this.#shown);
			this.#shown = new Group();
			const body = craftBody({ craft, parts, colours, manner: "solid", ink: colours.ink });
			const marks = centreMark(0.028 * size, colours.ink, colours.sheet);
			this.#shown.add(body.group, ...marks);
			for (const end of [ahead, right])
				this.#shown.add(arrow(vector(middle), vector(end), colours.focus, 0.07 * size));
			this.stage.scene.add(this.#shown);
			this.#built = { craft, parts, colours, body, marks };
		}
		const { body, marks } = this.#built!;
		body.stand({ poseRad, loads, hangs: loads.map(() => LEVEL_DOWN), centreM: middle });
		for (const mark of marks) mark.position.copy(vector(centreOfMassM));
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
		this.stage.say(labels);
		this.stage.aim(placeInPicture(middle), Math.max(0.98 * size, 0.55 * size + hangReachM(craft, loads)));
	}

	dispose(): void {
		this.stage.dispose();
	}
}

/** A ball with a ring, seen through everything. */
function centreMark(radius: number, ink: string, sheet: string) {
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
		mark.renderOrder = 10 + i;
	});
	return marks;
}
