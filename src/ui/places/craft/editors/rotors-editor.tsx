import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addRotor } from "../../../commands/add-rotor.ts";
import { listRotors } from "../../../commands/list-rotors.ts";
import { removeRotor } from "../../../commands/remove-rotor.ts";
import { rotorsByLayout } from "../../../commands/rotors-by-layout.ts";
import { sideBySide } from "../../../entry/typed.ts";
import { errors, run, scenario, state } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { ROTOR_FIELDS } from "../part-fields.ts";
import { Entries, type Entry } from "./entries.tsx";
import { EntryFieldEditor } from "./entry-field.tsx";
import { Lines } from "./lines.tsx";
import { readerOf } from "./reader-of.ts";

const PATH = "craft.rotors";
const [LEAST, MOST] = [4, 8];
const SPINS = ["clockwise", "counter-clockwise"];

/** Rotors one by one, where no layout word says how they stand: 4 to 8, each with its place, spin, tilt and motor number. */
export function RotorsEditor() {
	const list = valueAt(state.value.document, parsePath(PATH));
	const { rotors } = scenario.value.craft;
	if (!Array.isArray(list))
		return (
			<div class="list-editor">
				<p class="quiet">
					The layout and the distance from hub to hub place {rotors.length} rotors evenly. Where yours stand
					otherwise, are tilted or differ in speed, list them one by one; the list begins as they stand now.
				</p>
				<div class="row">
					<button type="button" onClick={() => run(listRotors(rotors))}>
						List the rotors one by one
					</button>
				</div>
			</div>
		);
	const entries = list as readonly Entry[];
	return (
		<div class="list-editor">
			<Lines path={PATH} />
			<Entries
				path={PATH}
				label="Rotors"
				entries={entries}
				summary={(rotor, i) => <RotorLine index={i} rotor={rotor} />}
				fields={(_, i) => (
					<div class="fields">
						{ROTOR_FIELDS.map((field) => (
							<EntryFieldEditor key={field.key} base={`${PATH}[${i}]`} field={field} />
						))}
						<ChoiceField
							path={`${PATH}[${i}].spin`}
							label="Spins, seen from above"
							options={SPINS}
							otherwise=""
						/>
					</div>
				)}
				copy={{ words: "Copy this rotor", disabled: entries.length >= MOST, command: addRotor }}
				remove={{
					words: "Take it out",
					disabled: entries.length <= LEAST,
					command: (_, i) => removeRotor(i),
				}}
				add={{ words: "Add a rotor", disabled: entries.length >= MOST, command: () => addRotor() }}
			>
				{[4, 6, 8].includes(entries.length) && errors.value.length === 0 ? (
					<button type="button" class="plain" onClick={() => run(rotorsByLayout(rotors))}>
						By layout and wheelbase again
					</button>
				) : null}
				<span class="quiet small">
					{entries.length} of {LEAST} to {MOST}
				</span>
			</Entries>
		</div>
	);
}

function RotorLine({ index, rotor }: { readonly index: number; readonly rotor: Entry }) {
	const position = Array.isArray(rotor["position"])
		? sideBySide(rotor["position"].map((each) => readerOf("length").show(each, "0 mm")))
		: "no place yet";
	return (
		<span class="rotor-line">
			<span>{String(rotor["place"] ?? "") || "no name"}</span>
			<span>motor {String(rotor["motor"] ?? index + 1)}</span>
			<span>{String(rotor["spin"] ?? "")}</span>
			<span class="quiet">{position}</span>
		</span>
	);
}
