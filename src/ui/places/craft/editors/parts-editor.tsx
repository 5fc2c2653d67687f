import { partsByRule } from "../../../../craft/parts-by-rule.ts";
import { many } from "../../../../report/format.ts";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addEntry } from "../../../commands/add-entry.ts";
import { beginParts } from "../../../commands/begin-parts.ts";
import { copyPart } from "../../../commands/copy-part.ts";
import { keepSums } from "../../../commands/keep-sums.ts";
import { removeEntry } from "../../../commands/remove-entry.ts";
import { errors, run, scenario, state } from "../../../state/store.ts";
import { Lines } from "./lines.tsx";
import { ListEntry } from "./list-entry.tsx";
import { PartFields } from "./part-fields-editor.tsx";
import { PartLine, PartLineHead } from "./part-line.tsx";
import { useEntries } from "./use-entries.ts";

const PATH = "craft.parts";

/** What the craft is made of: every part a line with its share of mass and inertia, opening into its fields. */
export function PartsEditor() {
	const { addButton, isNew, keyOf, onAdded, onRemoved } = useEntries();
	const list = valueAt(state.value.document, parsePath(PATH));
	const parts = (Array.isArray(list) ? list : []) as readonly Readonly<Record<string, unknown>>[];
	const { craft, massOrigin } = scenario.value;
	const shares = errors.value.length === 0 ? massOrigin.shares : [];
	const add = (): void => {
		run(addEntry(PATH, { name: `part ${parts.length + 1}`, shape: "point" }, "add a part"));
		onAdded(parts.length);
	};
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
					<ol class="entries" aria-label="Parts">
						{parts.map((part, i) => (
							<ListEntry
								key={keyOf(i)}
								path={`${PATH}[${i}]`}
								isNew={isNew(i)}
								summary={<PartLine part={part} share={shares[i]} whole={craft.bare} />}
							>
								{() => (
									<>
										<PartFields index={i} part={part} />
										<div class="row">
											<button
												type="button"
												onClick={() => {
													run(copyPart(i));
													onAdded(i + 1);
												}}
											>
												Copy this part
											</button>
											<button
												type="button"
												onClick={() => {
													run(removeEntry(PATH, i, `take out ${String(part["name"] ?? "a part")}`));
													onRemoved();
												}}
											>
												Take it out
											</button>
										</div>
									</>
								)}
							</ListEntry>
						))}
					</ol>
					<div class="row">
						<button type="button" ref={addButton} onClick={add}>
							Add a part
						</button>
						<button type="button" class="plain" onClick={() => run(keepSums(craft))}>
							Take out the list, keep its sums
						</button>
						<span class="quiet small">{many(parts.length, "line")}</span>
					</div>
				</>
			)}
		</div>
	);
}
