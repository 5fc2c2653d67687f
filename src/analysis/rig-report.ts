import { AXES, type GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill, DrillEvent } from "../flight/drill.ts";
import { fly } from "../flight/engine.ts";
import type { FlightResult } from "../flight/result.ts";
import { pivotInertia } from "../physics/pivot-rig.ts";
import type { Plant } from "../physics/plant.ts";
import { plantAt } from "../physics/plant-at.ts";
import type { RigSpec } from "../physics/rig-spec.ts";
import { axisMarginsOf } from "./axis-margins.ts";
import { hoverTrim } from "./hover.ts";
import { type LinearResult, linearise } from "./linearise.ts";
import { type RigLinear, rigLinear, throttleOf, torquePerUnit } from "./rig-linear.ts";
import type { RigGeometry, RigReport } from "./rig-report-types.ts";
import { rigSentences } from "./rig-sentences.ts";
import { stringForces } from "./rig-strings-linear.ts";

/** Geometry, margins and why; flights are `besideAir`. @throws RangeError for a drill without a rig */
export function rigReport(craft: Craft, point: OperatingPoint, set: GainSet, drill: Drill): RigReport {
	const { rig } = drill;
	if (!rig) throw new RangeError(`rigReport: drill '${drill.name}' has no rig, expected one`);
	const hover = hoverTrim(craft, point).result;
	const ofHover = hover.feasible ? throttleOf(drill, hover.trim.throttle) : 1;
	const still: OperatingPoint = { ...point, windMPerSec: [0, 0, 0] };
	const on = (lag: OperatingPoint["motorLag"]): RigLinear => rigLinear(craft, still, rig, ofHover, lag);
	const held = on(still.motorLag);
	const heldFelt = on(still.motorLag === "slower" ? "mean" : still.motorLag);
	const air = airOf(craft, still);
	const airFelt = airOf(craft, { ...still, motorLag: still.motorLag === "slower" ? "mean" : still.motorLag });
	const plant = plantAt(craft, still);
	const carried = held.feasible ? 1 - held.thrustShare : 0;
	const perUnit = air.feasible ? torquePerUnit(air.linear, AXES.indexOf(rig.axis) as 0) : null;
	const geometry = rigGeometry(plant, rig, carried, perUnit);
	const base = { kind: rig.kind, axis: rig.axis, geometry, ofHover };
	if (!(held.feasible && heldFelt.feasible && air.feasible && airFelt.feasible)) {
		const failed = [held, heldFelt, air, airFelt].find((each) => !each.feasible);
		const why = failed && !failed.feasible ? failed.reason : "";
		return { ...base, loops: null, why, sentences: rigSentences(base, null) };
	}
	const loops = {
		rig: axisMarginsOf(craft, set, held.linear, heldFelt.linear, rig.axis),
		air: axisMarginsOf(craft, set, air.linear, airFelt.linear, rig.axis),
	};
	return { ...base, loops, why: "", sentences: rigSentences(base, loops) };
}

function airOf(craft: Craft, point: OperatingPoint): LinearResult {
	return linearise(craft, { ...point, throttle: "hover" });
}

function rigGeometry(plant: Plant, rig: RigSpec, carried: number, perUnit: number | null): RigGeometry {
	const found = rig.kind === "pivot" ? pivotGeometry(plant, rig) : stringsGeometry(plant, rig, carried);
	const stiffness = found.stiffnessNmPerRad;
	return {
		...found,
		outputPctPerDeg:
			perUnit === null || stiffness === 0 ? null : (100 * stiffness * (Math.PI / 180)) / perUnit,
	};
}

type Bare = Omit<RigGeometry, "outputPctPerDeg">;

function pivotGeometry(plant: Plant, rig: Extract<RigSpec, { kind: "pivot" }>): Bare {
	const { own, swinging, rig: added, whole, armM } = pivotInertia(plant, rig);
	const stiffness = rig.axis === "yaw" ? 0 : plant.massKg * plant.gravityMPerSec2 * armM[2];
	return {
		craftInertiaKgM2: own,
		swingingInertiaKgM2: swinging,
		rigInertiaKgM2: added,
		inertiaFactor: whole / own,
		stiffnessNmPerRad: stiffness,
		periodSec: stiffness > 0 ? 2 * Math.PI * Math.sqrt(whole / stiffness) : null,
		fastPeriodSec: null,
		frictionNmSec: rig.frictionNmSec,
	};
}

/** Two modes of angle and place along the string's swing; yaw alone turns about its own middle. */
function stringsGeometry(plant: Plant, rig: Extract<RigSpec, { kind: "strings" }>, carried: number): Bare {
	const axis = AXES.indexOf(rig.axis);
	const { stiffness: k } = stringForces(plant, rig, carried * plant.massKg * plant.gravityMPerSec2);
	const own = plant.inertiaKgM2[(4 * axis) as 0];
	const none = {
		craftInertiaKgM2: own,
		swingingInertiaKgM2: 0,
		rigInertiaKgM2: 0,
		inertiaFactor: 1,
		frictionNmSec: 0,
	};
	const turn = axis + 3;
	const kTurn = k[7 * turn]!;
	if (axis === 2)
		return {
			...none,
			stiffnessNmPerRad: kTurn,
			periodSec: kTurn > 0 ? 2 * Math.PI * Math.sqrt(own / kTurn) : null,
			fastPeriodSec: null,
		};
	const side = axis === 0 ? 1 : 0;
	// Leaning moves thrust sideways: what the thrust's share of the weight pushes out, the strings hold.
	const thrust = (1 - carried) * plant.massKg * plant.gravityMPerSec2 * (axis === 0 ? 1 : -1);
	const m = plant.massKg;
	const kSide = k[7 * side]!;
	const sideTurn = k[6 * side + turn]! - thrust;
	const turnSide = k[6 * turn + side]!;
	const b = kSide / m + kTurn / own;
	const c = (kSide * kTurn - sideTurn * turnSide) / (m * own);
	const room = b * b - 4 * c;
	const root = Math.sqrt(Math.max(0, room));
	// Where both swings have met (thrust that leans along with the craft), w^2 is complex: the one period is that of its root's real part.
	const met = room < 0 ? (Math.sqrt(c) + b / 2) / 2 : null;
	const period = (w2: number): number | null => (w2 > 0 ? (2 * Math.PI) / Math.sqrt(w2) : null);
	return {
		...none,
		stiffnessNmPerRad: kSide > 0 ? kTurn - (turnSide * sideTurn) / kSide : kTurn,
		periodSec: period(met ?? (b - root) / 2),
		fastPeriodSec: met === null ? period((b + root) / 2) : null,
	};
}

/** The same drill in the air: no rig, and at hover throttle where the drill holds less for the strings' sake. */
export function inTheAir(drill: Drill): Drill {
	const { rig: _, ...rest } = drill;
	const events: readonly DrillEvent[] = drill.events.filter((each) => each.kind !== "throttle");
	return { ...rest, events };
}

/** Flown in the air: what a rig drill is put beside. */
export function flyInTheAir(
	craft: Craft,
	point: OperatingPoint,
	gainSet: GainSet,
	drill: Drill,
	seed: number,
): FlightResult {
	return fly({ craft, point, gainSet, drill: inTheAir(drill), options: { seed } });
}
