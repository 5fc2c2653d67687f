import {
	BufferGeometry,
	GridHelper,
	Group,
	Line,
	LineBasicMaterial,
	LineDashedMaterial,
	Quaternion,
	Vector3,
} from "three";
import type { PartInput } from "../../craft/input.ts";
import type { Craft, OperatingPoint } from "../../craft/model.ts";
import type { Drill } from "../../flight/drill.ts";
import type { Trace } from "../../flight/result.ts";
import type { Vec3 } from "../../math/types.ts";
import * as vec3 from "../../math/vec3.ts";
import { groundNormal, LEVEL_GROUND } from "../../physics/ground-spec.ts";
import { placeInPicture, turnInPicture } from "./axes.ts";
import { loadsDuring, standingAt } from "./carriage.ts";
import { arrow, type CraftBody, craftBody, vector } from "./craft-body.ts";
import { reachM } from "./craft-solids.ts";
import { hangReachM, limbReachM } from "./limb-places.ts";
import { poseAt, trail } from "./motion.ts";
import { windAt } from "./replay-wind.ts";
import { type Colours, coloursOf, dispose, type Label, Stage } from "./stage.ts";

interface ShownFlight {
	/** Of the gain set. */
	readonly letter: string;
	readonly trace: Trace;
}

export interface ShownReplay {
	readonly craft: Craft;
	readonly parts: readonly PartInput[];
	readonly point: OperatingPoint;
	readonly drill: Drill;
	/** The first solid, the second dashed; no more. */
	readonly flights: readonly ShownFlight[];
}

const MOST_TRAIL = 400;
const CELLS = 80;

interface Actor {
	readonly flight: ShownFlight;
	readonly body: CraftBody;
	readonly way: Line<BufferGeometry>;
	readonly ink: string;
}

/** One or two flights at an instant. */
export class ReplayScene {
	readonly stage: Stage;
	readonly #host: HTMLElement;
	#shown = new Group();
	#wind = new Group();
	#ground = new Group();
	#actors: readonly Actor[] = [];
	#replay: ShownReplay | null = null;
	#colours: Colours;
	#size = 1;
	#hangs = 0;

	constructor(host: HTMLElement) {
		this.#host = host;
		this.#colours = coloursOf(host);
		this.stage = new Stage(host);
	}

	show(replay: ShownReplay): void {
		dispose(this.#shown);
		dispose(this.#wind);
		const { craft, parts, point, drill } = replay;
		const colours = coloursOf(this.#host);
		this.#colours = colours;
		this.#replay = replay;
		const middle: Vec3 = [0, 0, 0];
		this.#size = Math.max(reachM(craft, middle), limbReachM(craft, middle));
		this.#hangs = Math.max(
			...[0, ...drill.events.map(({ atSec }) => atSec)].map((atSec) =>
				hangReachM(craft, loadsDuring(craft, point, drill, atSec)),
			),
		);
		this.#shown = new Group();
		this.#ground = new Group();
		const spec = drill.ground ?? LEVEL_GROUND;
		this.#ground.quaternion.setFromUnitVectors(new Vector3(0, 1, 0), vector(groundNormal(spec)));
		const cell = this.#cell;
		this.#ground.add(new GridHelper(CELLS * cell, CELLS, colours.line, colours.line));
		this.#shown.add(this.#ground);
		this.#actors = replay.flights.slice(0, 2).map((flight, i): Actor => {
			const ink = colours.sets["ABCDEF".indexOf(flight.letter)] || colours.ink;
			const body = craftBody({
				craft,
				parts,
				colours,
				manner: i === 0 ? "solid" : "outline",
				ink: i === 0 ? colours.ink : ink,
			});
			const way = new Line(
				new BufferGeometry(),
				i === 0
					? new LineBasicMaterial({ color: ink })
					: new LineDashedMaterial({ color: ink, dashSize: 0.05, gapSize: 0.035 }),
			);
			way.frustumCulled = false;
			this.#shown.add(body.group, way);
			return { flight, body, way, ink };
		});
		this.stage.scene.add(this.#shown);
	}

	/** Cells of the ground grid, m: 0.5 m for a craft of half a metre, 0.1 m for a palm-sized one. */
	get #cell(): number {
		return this.#size > 0.2 ? 0.5 : 0.1;
	}

	at(timeSec: number): void {
		const replay = this.#replay;
		if (!replay || this.#actors.length === 0) return;
		const labels: Label[] = [];
		const places = this.#actors.map((actor, i) => {
			const pose = poseAt(actor.flight.trace, timeSec, replay.craft.rotors.length);
			const place = placeInPicture(pose.placeM);
			const { group, discs, hubs } = actor.body;
			actor.body.stand(standingAt(replay.craft, replay.point, replay.drill, pose, timeSec));
			group.position.set(...place);
			group.quaternion.copy(new Quaternion(...turnInPicture(pose.attitude)));
			group.updateMatrixWorld();
			pose.commands.forEach((command, rotor) => {
				if (i > 0) return;
				discs[rotor]!.material.color.set(actor.ink);
				discs[rotor]!.material.opacity = 0.06 + 0.6 * Math.max(0, Math.min(1, command));
				labels.push({
					text: `${Math.round(100 * command)} %`,
					at: hubs[rotor]!.getWorldPosition(new Vector3()),
					kind: "rotor",
				});
			});
			const way = [...trail(actor.flight.trace, timeSec, MOST_TRAIL), pose.placeM].map(vector);
			actor.way.geometry.dispose();
			actor.way.geometry = new BufferGeometry().setFromPoints(way);
			actor.way.computeLineDistances();
			labels.push({
				text: actor.flight.letter,
				at: group.localToWorld(new Vector3(0, (i === 0 ? 0.75 : 1.05) * this.#size, 0)),
				kind: "letter",
			});
			return place;
		});
		const middle = vec3.scale(
			places.reduce<Vec3>((sum, each) => vec3.add(sum, each), [0, 0, 0]),
			1 / places.length,
		);
		this.#follow(middle);
		this.#blow(replay, middle, timeSec, labels);
		const apart = Math.max(...places.map((each) => vec3.length(vec3.subtract(each, middle))));
		this.stage.say(labels);
		this.stage.aim(middle, Math.max(1.5 * this.#size, 0.8 * this.#size + this.#hangs) + apart);
	}

	dispose(): void {
		this.stage.dispose();
	}

	/** The grid goes along by whole cells, so that its lines stay where they are on the ground. */
	#follow(target: Vec3): void {
		const grid = this.#ground.children[0]!;
		const local = this.#ground.worldToLocal(new Vector3(...target));
		const cell = this.#cell;
		grid.position.set(Math.round(local.x / cell) * cell, 0, Math.round(local.z / cell) * cell);
	}

	#blow({ drill, point }: ShownReplay, middle: Vec3, timeSec: number, labels: Label[]): void {
		dispose(this.#wind);
		const wind = windAt(drill.wind, point.windMPerSec, timeSec);
		const speed = vec3.length(wind);
		if (speed < 0.05) return;
		const along = new Vector3(...placeInPicture(wind)).normalize();
		const length = this.#size * Math.min(1.4, 0.35 + 0.12 * speed);
		// Up wind of the craft and above it, blowing towards it.
		const tip = new Vector3(...middle).addScaledVector(along, -1.15 * this.#size);
		tip.y += 0.7 * this.#size;
		const tail = tip.clone().addScaledVector(along, -length);
		this.#wind = arrow(tail, tip, this.#colours.ink, 0.16 * this.#size);
		this.stage.scene.add(this.#wind);
		labels.push({
			text: `wind ${speed.toFixed(1)} m/s`,
			at: tail.clone().setY(tail.y + 0.15 * this.#size),
			kind: "axis",
		});
	}
}
