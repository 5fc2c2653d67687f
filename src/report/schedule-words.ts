import { type AxisName, type GainSet, SCHEDULED_GAINS } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { gainsAt } from "../physics/gains-at.ts";
import { digits } from "./format.ts";
import { gainName } from "./gains.ts";

/** What a set's schedule makes of one axis's gains at an operating point; empty for a set without one. */
export function scheduleHere(craft: Craft, set: GainSet, point: OperatingPoint, axis: AxisName): string {
	const { schedule } = set;
	if (!schedule) return "";
	const here = gainsAt(craft, set, point)[axis];
	const own = set[axis];
	const factors = SCHEDULED_GAINS.filter((gain) => own[gain] !== 0).map(
		(gain) => `${gainName(gain)} ${digits(here[gain] / own[gain])}`,
	);
	const follows = [
		...(schedule.anglesRad.length > 1 ? [`'${schedule.hinge}'`] : []),
		...(schedule.loadsKg.length > 1 ? ["the load"] : []),
	].join(" and ");
	return `These gains follow ${follows}: at this operating point times ${factors.join(", ")}.`;
}

/** How the builder's code goes from one breakpoint to the next. */
export const scheduleRule = (hinge: string): string =>
	`Between breakpoints each gain goes over by 3 t^2 - 2 t^3 (t from 0 to 1 between two neighbours)${
		hinge === "" ? "" : `, first over the angle of '${hinge}', then`
	} over the load that your code knows it carries; beyond the ends it stays.`;
