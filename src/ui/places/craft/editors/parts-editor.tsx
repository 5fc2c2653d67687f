import { partsByRule } from "../../../../craft/parts-by-rule.ts";
import { many } from "../../../../report/format.ts";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addEntry } from "../../../commands/add-entry.ts";
import { beginParts } from "../../../commands/begin-parts.ts";
import { copyPart } from "../../../commands/copy-part.ts";
import { keepSums } from "../../../commands/keep-sums.ts";
import { removeEntry } from "../../../commands/remove-entry.ts";
import { errors, run, scenario, state } from "../../../state/store.ts";
import { Entries, type Entry } from "./entries.tsx";
import { Lines } from "./lines.tsx";
import { PartFields } from "./part-fields-editor.tsx";
import { PartLine, PartLineHead } from "./part-line.tsx";

const PATH = "craft.parts";

/** What the craft is made of: every part a line with its share of mass and inertia, opening into its fields. */
export function PartsEditor() {
	const list = valueAt(state.value.document, parsePath(PATH));
	const parts = (Array.isArray(list) ? list : []) as readonly Entry[];
	const { craft, massOrigin } = scenario.value;
	const shares = errors.value.length === 0 ? massOrigin.shares : [];
	return (
		<div class="list-editor">
			<Lines path={PATH} />
			{parts.length === 0 ? (
				<>
					<p class="quiet">
						No parts are written down. A list says where the mass sits, and so which part makes the craft slow
						to turn; it begins with what is assumed now, to be replaced by what you weighed.
					</p>
					<div class="row">
						<button
							type="button"
							onClick={() => run(beginParts(partsByRule(craft.bare.massKg, craft.rotors)))}
						>
							Begin a parts list
						</button>
					</div>
				</>
			) : (
				<>
					<PartLineHead />
					<Entries
						path={PATH}
						label="Parts"
						entries={parts}
						summary={(part, i) => <PartLine part={part} share={shares[i]} whole={craft.bare} />}
						fields={(part, i) => <PartFields index={i} part={part} />}
						copy={{ words: "Copy this part", command: copyPart }}
						remove={{
							words: "Take it out",
							command: (part, i) => removeEntry(PATH, i, `take out ${String(part["name"] ?? "a part")}`),
						}}
						add={{
							words: "Add a part",
							command: () =>
								addEntry(PATH, { name: `part ${parts.length + 1}`, shape: "point" }, "add a part"),
						}}
					>
						<button type="button" class="plain" onClick={() => run(keepSums(craft))}>
							Take out the list, keep its sums
						</button>
						<span class="quiet small">{many(parts.length, "line")}</span>
					</Entries>
				</>
			)}
		</div>
	);
}
