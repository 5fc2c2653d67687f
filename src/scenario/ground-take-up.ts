import { gripPlace } from "../craft/limb-pose.ts";
import type { Craft } from "../craft/model.ts";
import type { Notes } from "../craft/notes.ts";
import type { Drill, DrillEvent } from "../flight/drill.ts";
import { loadSizeM, reachM } from "../physics/limb-contacts.ts";
import { formatQuantity } from "../units/format.ts";

type TakeUp = Extract<DrillEvent, { kind: "takeUp" }>;

/**
 * How far above level ground the feet are meant to be at an instant: 0 standing, else what `height` events ask for or where the drill begins; null where only the
 * flight can tell.
 */
function feetHeight({ start, heightM, events }: Pick<Drill, "start" | "heightM" | "events">, before: TakeUp) {
	const earlier = events.filter((event) => event.atSec <= before.atSec && event !== before);
	const last = earlier.findLast(({ kind }) =>
		["height", "throttle", "leaveThrottle", "stick", "makeLive"].includes(kind),
	);
	if (!last) return start === "ground" ? 0 : heightM;
	return last.kind === "height" ? last.heightM : null;
}

/** Angles that the drill has given every link by then, from folded; null where one is left to the operating point. */
function poseGiven({ events }: Pick<Drill, "events">, craft: Craft, before: TakeUp): number[] | null {
	const links = craft.limb?.links ?? [];
	const pose = links.map((_, link) =>
		events.findLast((event) => event.kind === "limb" && event.link === link && event.atSec <= before.atSec),
	);
	if (pose.some((move) => !move)) return null;
	return pose.map((move) => (move?.kind === "limb" ? move.angleRad : 0));
}

/** A load on the ground that the place where it would be held does not come down to, as far as the file says. The flight itself looks again. */
export function groundTakeUpProblems(
	drill: Pick<Drill, "start" | "heightM" | "events" | "ground">,
	event: TakeUp,
	path: string,
	craft: Craft,
	notes: Notes,
): void {
	if (!event.fromGround || craft.load.tether || (drill.ground?.slopeRad ?? 0) !== 0) return;
	const { limb, airframe } = craft;
	const feetM = feetHeight(drill, event);
	const pose = event.inGrip ? poseGiven(drill, craft, event) : [];
	if (feetM === null || pose === null) return;
	const held = event.inGrip && limb ? gripPlace(limb, pose, event.positionM) : event.positionM;
	const lowest = Math.max(...airframe.feetM.map((foot) => foot[2]));
	const above = feetM + lowest - held[2] - loadSizeM(craft.load) / 2;
	const within = reachM(craft, event.inGrip === true);
	if (Math.abs(above) <= within) return;
	const length = (m: number): string => formatQuantity("length", m);
	notes.problem(
		`${path}.from`,
		"ground",
		`a place of the load within ${length(within)} (the grip's radius, or half the load's size) of where it stands on the ground; with the feet at ${length(feetM)} it is held ${length(Math.abs(above))} too ${above > 0 ? "high" : "low"}`,
	);
}
