import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addRotor } from "../../../commands/add-rotor.ts";
import { listRotors } from "../../../commands/list-rotors.ts";
import { removeRotor } from "../../../commands/remove-rotor.ts";
import { rotorsByLayout } from "../../../commands/rotors-by-layout.ts";
import { sideBySide } from "../../../entry/typed.ts";
import { errors, run, scenario, state } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { ROTOR_FIELDS } from "../part-fields.ts";
import { EntryFieldEditor } from "./entry-field.tsx";
import { Lines } from "./lines.tsx";
import { ListEntry } from "./list-entry.tsx";
import { readerOf } from "./reader-of.ts";
import { useEntries } from "./use-entries.ts";

const PATH = "craft.rotors";
const SPINS = ["clockwise", "counter-clockwise"];

/** Rotors one by one, where no layout word says how they stand: 4 to 8, each with its place, spin, tilt and motor number. */
export function RotorsEditor() {
	const { addButton, isNew, keyOf, onAdded, onRemoved } = useEntries();
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
	const entries = list as readonly Readonly<Record<string, unknown>>[];
	return (
		<div class="list-editor">
			<Lines path={PATH} />
			<ol class="entries" aria-label="Rotors">
				{entries.map((rotor, i) => (
					<ListEntry
						key={keyOf(i)}
						path={`${PATH}[${i}]`}
						isNew={isNew(i)}
						summary={<RotorLine index={i} rotor={rotor} />}
					>
						{() => (
							<>
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
								<div class="row">
									<button
										type="button"
										disabled={entries.length >= 8}
										onClick={() => {
											run(addRotor(i));
											onAdded(i + 1);
										}}
									>
										Copy this rotor
									</button>
									<button
										type="button"
										disabled={entries.length <= 4}
										onClick={() => {
											run(removeRotor(i));
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
				<button
					type="button"
					ref={addButton}
					disabled={entries.length >= 8}
					onClick={() => {
						run(addRotor());
						onAdded(entries.length);
					}}
				>
					Add a rotor
				</button>
				{[4, 6, 8].includes(entries.length) && errors.value.length === 0 ? (
					<button type="button" class="plain" onClick={() => run(rotorsByLayout(rotors))}>
						By layout and wheelbase again
					</button>
				) : null}
				<span class="quiet small">{entries.length} of 4 to 8</span>
			</div>
		</div>
	);
}

function RotorLine({
	index,
	rotor,
}: {
	readonly index: number;
	readonly rotor: Readonly<Record<string, unknown>>;
}) {
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
