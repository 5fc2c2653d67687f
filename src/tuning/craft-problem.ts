import { type AxisPlants, axisPlantsOf } from "../analysis/axis-plants.ts";
import { corners as cornersOf } from "../analysis/corners.ts";
import { judgedYaw } from "../analysis/held-axis.ts";
import { type LinearCraft, linearise } from "../analysis/linearise.ts";
import { timingChain } from "../analysis/timing-chain.ts";
import type { AxisName, FilterSpec, FixedGainSet } from "../control/spec.ts";
import { type Craft, NOMINAL_POINT } from "../craft/model.ts";
import type { Limits } from "./characters.ts";
import { type AxisSearchProblem, axisProblem } from "./problem.ts";
import type { AxisProblem, TuneCorner } from "./result.ts";

type FlownAt = TuneCorner & {
	readonly linear: LinearCraft;
	readonly plants: AxisPlants;
	readonly motorLagSec: number;
	/** Its yaw stands with roll and pitch held by their own loops. */
	readonly yawHeld: boolean;
	/** Held or not, they make a difference to it. */
	readonly yawTouched: boolean;
};

/** A craft made ready for tuning: its axes in every corner it can fly in. */
export interface CraftModel {
	readonly craft: Craft;
	readonly reference: AxisPlants;
	readonly corners: readonly FlownAt[];
	/** At the reference. */
	readonly motorLagSec: number;
	readonly unflyable: readonly { readonly corner: string; readonly reason: string }[];
	/** Mean motor command at the reference. */
	readonly hoverCommand: number;
	/** About the three axes at the reference. */
	readonly inertiaKgM2: readonly [number, number, number];
}

/** @throws RangeError when the craft can fly in none of the corners */
export function craftModel(craft: Craft, asked?: readonly TuneCorner[]): CraftModel {
	const chain = timingChain(craft.timing);
	const corners: FlownAt[] = [];
	const unflyable: { corner: string; reason: string }[] = [];
	const references: { plants: AxisPlants; hover: number; inertia: readonly number[]; lag: number }[] = [];
	const look = (corner: TuneCorner): FlownAt | null => {
		const found = linearise(craft, corner.point);
		if (!found.feasible) {
			unflyable.push({ corner: corner.name, reason: found.reason });
			return null;
		}
		const plants = axisPlantsOf(found.linear, chain);
		const { commands } = found.linear.trim;
		let sum = 0;
		for (const command of commands) sum += command;
		if (references.length === 0)
			references.push({
				plants,
				hover: sum / commands.length,
				inertia: found.linear.plant.inertiaKgM2,
				lag: found.linear.motorLagSec,
			});
		return {
			...corner,
			linear: found.linear,
			plants,
			motorLagSec: found.linear.motorLagSec,
			yawHeld: false,
			yawTouched: false,
		};
	};
	look({ name: "nominal", point: NOMINAL_POINT });
	for (const corner of asked ?? cornersOf(craft)) {
		const at = look(corner);
		if (at) corners.push(at);
	}
	const reference = references[0];
	if (!reference || corners.length === 0)
		throw new RangeError(
			`tune: '${craft.name}' cannot fly in any corner (${unflyable[0]?.reason ?? "no corners given"}), expected at least one`,
		);
	return {
		craft,
		reference: reference.plants,
		motorLagSec: reference.lag,
		corners,
		unflyable,
		hoverCommand: reference.hover,
		inertiaKgM2: [reference.inertia[0]!, reference.inertia[4]!, reference.inertia[8]!],
	};
}

/** The same, yaw taken with roll and pitch held by a set's loops wherever that makes a difference: `held-axis.ts`. */
export function holdRollAndPitch(model: CraftModel, set: FixedGainSet): CraftModel {
	const chain = timingChain(model.craft.timing);
	return {
		...model,
		corners: model.corners.map((corner) => {
			const { plants } = corner;
			const { plant, held, touched } = judgedYaw(corner.linear, chain, plants.yaw, set);
			if (!held) return { ...corner, yawTouched: touched };
			return {
				...corner,
				yawHeld: true,
				yawTouched: true,
				plants: {
					get roll() {
						return plants.roll;
					},
					get pitch() {
						return plants.pitch;
					},
					yaw: plant,
				},
			};
		}),
	};
}

const MOST_AUTHORITY = 0.4;
const LEAST_AUTHORITY = 0.05;

/** u that an axis may use: the room between hover and the nearer end of the command; yaw half of it. */
export function authorityOf(model: CraftModel, axis: AxisName): number {
	const room = Math.min(model.hoverCommand - model.craft.mixer.lowestSpin, 1 - model.hoverCommand);
	const whole = Math.min(MOST_AUTHORITY, Math.max(LEAST_AUTHORITY, room));
	return axis === "yaw" ? whole / 2 : whole;
}

export interface ProblemOptions {
	readonly limits: Limits;
	readonly filters: readonly FilterSpec[];
	readonly yawDerivative: boolean;
	/** Measures by another problem's steps and references, so that objectives compare. */
	readonly scale?: Readonly<Record<AxisName, AxisProblem>>;
	readonly pointsPerDecade?: number;
}

export function axisProblemOf(model: CraftModel, axis: AxisName, options: ProblemOptions): AxisSearchProblem {
	return axisProblem({
		axis,
		craft: model.craft,
		limits: options.limits,
		reference: model.reference[axis],
		corners: model.corners.map(({ name, plants, motorLagSec }) => ({
			name,
			plant: plants[axis],
			motorLagSec,
		})),
		motorLagSec: model.motorLagSec,
		filters: options.filters,
		usesDerivative: axis !== "yaw" || options.yawDerivative,
		authority: authorityOf(model, axis),
		scale: options.scale?.[axis],
		pointsPerDecade: options.pointsPerDecade,
	});
}
