import type { AxisName, GainSet } from "../../control/spec.ts";
import { toFirmware } from "../../handover/firmware-gains.ts";
import { loadDocument } from "../../scenario/load.ts";
import type { Scenario } from "../../scenario/model.ts";
import type { Command, PageState } from "../state/model.ts";
import { setsOf } from "./rack.ts";

export type GainKey = "kAngle" | "kAngleI" | "kp" | "ki" | "kd" | "kff";

/** One gain of one axis, in internal units; the document keeps the units that the set is written in there. */
export function setGain(set: string, axis: AxisName, gain: GainKey, value: number, joins?: string): Command {
	return {
		name: `${gain} of ${axis}, set ${set}`,
		...(joins === undefined ? {} : { joins }),
		apply(state) {
			if (!(Number.isFinite(value) && value >= 0))
				throw new RangeError(`${gain} of ${axis}: ${value}, expected a number of 0 or more`);
			const loaded = loadDocument(state.document);
			if (!loaded.ok) throw new RangeError(`mend the scenario first: ${loaded.errors[0]?.message}`);
			const { scenario } = loaded;
			const before = scenario.gainSets.find((each) => each.name === set);
			if (!before) throw new RangeError(`no gain set '${set}' in the rack`);
			if (before[axis][gain] === value) return state;
			const after: GainSet = { ...before, [axis]: { ...before[axis], [gain]: value } };
			return {
				...state,
				document: { ...state.document, gainSets: rewritten(state, scenario, after, axis, gain) },
			};
		},
	};
}

function rewritten(state: PageState, scenario: Scenario, after: GainSet, axis: AxisName, gain: GainKey) {
	return setsOf(state).map((each) => {
		if (each.name !== after.name) return each;
		// A set without pitch gains flies pitch as roll: once they differ, both are written out.
		const own = (each[axis] ?? each["roll"]) as Readonly<Record<string, unknown>>;
		const kept = axis === "roll" && each["pitch"] === undefined ? { pitch: each["roll"] } : {};
		return { ...each, ...kept, [axis]: { ...own, ...written(each, scenario, after, axis, gain) } };
	});
}

function written(
	document: Readonly<Record<string, unknown>>,
	scenario: Scenario,
	after: GainSet,
	axis: AxisName,
	gain: GainKey,
): Record<string, number> {
	if (document["units"] !== "firmware") return { [gain]: after[axis][gain] };
	const typed = toFirmware(after, scenario.firmware)[axis];
	if (gain !== "kp" && gain !== "ki" && gain !== "kd") return { [gain]: typed[gain] };
	const { core } = typed;
	if (core.form === "parallel") return { [gain]: core[gain] };
	// Ti and Td hang on kp: all three change together.
	return {
		kp: core.kp,
		td: core.td,
		...(core.ti === null || !Number.isFinite(core.ti) ? {} : { ti: core.ti }),
	};
}
