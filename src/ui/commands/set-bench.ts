import { loadDocument } from "../../scenario/load.ts";
import type { Command, ScenarioDocument } from "../state/model.ts";
import { read, write } from "./change-document.ts";

type BenchRow = Readonly<Record<string, unknown>>;

/** Numbers that a bench table says itself: beside one they are an error. */
const SAID_BY_TABLE = ["maxThrust", "maxSpeed", "startCommand", "startSpeed"];
/** And those that it says with its torque, or with torque, voltage and current. */
const PERHAPS_SAID = ["craft.motors.torqueCoefficient", "craft.battery.efficiency"];

/** A bench table in place of what was measured before, which it takes out; no rows: the table is taken out. */
export function setBench(rows: readonly BenchRow[], name = "bench table"): Command {
	return {
		name,
		apply(state) {
			let document = write(state.document, "craft.motors.bench", rows);
			if (rows.length === 0) return { ...state, document };
			for (const key of SAID_BY_TABLE) document = write(document, `craft.motors.${key}`, undefined);
			// A coefficient that is given would stand above the one that the measured speeds make.
			if (rows.every((row) => row["speed"] !== undefined))
				document = write(document, "craft.motors.thrustCoefficient", undefined);
			for (const path of PERHAPS_SAID) document = withoutSaid(document, path);
			return { ...state, document };
		},
	};
}

/** Without a value that is wrong beside the table. */
function withoutSaid(document: ScenarioDocument, path: string): ScenarioDocument {
	if (read(document, path) === undefined) return document;
	const loaded = loadDocument(document);
	const said = !loaded.ok && loaded.errors.some((each) => each.path === path);
	return said ? write(document, path, undefined) : document;
}
