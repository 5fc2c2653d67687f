import { addPlace } from "../../../commands/add-place.ts";
import { changeShape, type Shape } from "../../../commands/change-shape.ts";
import { removePlace } from "../../../commands/remove-place.ts";
import { renamePart } from "../../../commands/rename-part.ts";
import { run } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { BODY } from "../craft-field.ts";
import { PART_FIELDS, SHAPES } from "../part-fields.ts";
import { EntryFieldEditor } from "./entry-field.tsx";
import { TableField } from "./table-field.tsx";

const ZERO = [0, 0, 0] as const;
const WORDS = Object.entries(SHAPES).map(([value, { words }]) => ({ label: words, value }));
const PLACES = BODY.map((label, key) => ({ key, label, of: "length" as const }));

interface Props {
	readonly index: number;
	readonly part: Readonly<Record<string, unknown>>;
}

/** Every field of one part: its shape says which sizes it has. */
export function PartFields({ index, part }: Props) {
	const base = `craft.parts[${index}]`;
	const shape = SHAPES[part["shape"] as Shape];
	const places = Array.isArray(part["at"]) ? part["at"] : null;
	return (
		<>
			<div class="fields">
				<EntryFieldEditor
					base={base}
					field={PART_FIELDS.name}
					write={(to) => run(renamePart(index, to as string | undefined))}
				/>
				<EntryFieldEditor base={base} field={PART_FIELDS.mass} />
				<ChoiceField
					path={`${base}.shape`}
					label="Shape"
					options={WORDS}
					otherwise=""
					write={(to) => run(changeShape(index, to as Shape))}
				/>
				{shape?.sizes.map((field) => (
					<EntryFieldEditor key={field.key} base={base} field={field} />
				))}
				{places ? null : <EntryFieldEditor base={base} field={PART_FIELDS.position} now={ZERO} />}
				<EntryFieldEditor base={base} field={PART_FIELDS.orientation} now={ZERO} />
			</div>
			{places ? (
				<TableField
					path={`${base}.at`}
					label="Where one each of it stands"
					row="place"
					columns={PLACES}
					rows={places.map((_, i) => ({ name: String(i + 1), path: `${base}.at[${i}]` }))}
					remove={{ least: 2, run: (at) => run(removePlace(index, at)) }}
				>
					<button type="button" onClick={() => run(addPlace(index))}>
						One more place
					</button>
				</TableField>
			) : (
				<div class="row small">
					<button type="button" onClick={() => run(addPlace(index))}>
						It stands at several places
					</button>
				</div>
			)}
		</>
	);
}
