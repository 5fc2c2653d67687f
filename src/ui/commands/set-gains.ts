import type { AxisName } from "../../control/spec.ts";
import type { Command } from "../state/model.ts";
import { type GainKey, setGain } from "./set-gain.ts";

/** Several gains of one axis at once, internal units: one step of undo. */
export function setGains(
	set: string,
	axis: AxisName,
	gains: Readonly<Partial<Record<GainKey, number>>>,
	joins?: string,
): Command {
	const all = Object.entries(gains) as [GainKey, number][];
	return {
		name: `${all.map(([gain]) => gain).join(" and ")} of ${axis}, set ${set}`,
		...(joins === undefined ? {} : { joins }),
		apply: (state) => all.reduce((now, [gain, value]) => setGain(set, axis, gain, value).apply(now), state),
	};
}
