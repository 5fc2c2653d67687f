import type { VNode } from "preact";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import type { KindName } from "../../../../units/kinds.ts";
import { addEntry } from "../../../commands/add-entry.ts";
import { removeEntry } from "../../../commands/remove-entry.ts";
import { setKind } from "../../../commands/set-kind.ts";
import { setValue } from "../../../commands/set-value.ts";
import { sortRows } from "../../../commands/sort-rows.ts";
import { fieldNotes } from "../../../state/field-notes.ts";
import { run, scenario, state } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { QuantityField } from "../../../widgets/quantity-field.tsx";
import { TypedField } from "../../../widgets/typed-field.tsx";
import type { CraftField, KindSpec, TableSpec } from "../craft-field.ts";
import { BenchEditor } from "./bench-editor.tsx";
import { LimbEditor } from "./limb-editor.tsx";
import { LongTextField } from "./long-text-field.tsx";
import { PartsEditor } from "./parts-editor.tsx";
import { readerOf } from "./reader-of.ts";
import { RotorsEditor } from "./rotors-editor.tsx";
import { SignalLossField } from "./signal-loss-field.tsx";
import { SpreadField } from "./spread-field.tsx";
import { TableField } from "./table-field.tsx";
import { VectorField } from "./vector-field.tsx";

const at = (path: string): unknown => valueAt(state.value.document, parsePath(path));

/** Hidden is only what the document neither says nor is wrong about. */
function isShown({ path, unless, onlyFor, onlyWith }: CraftField): boolean {
	if (at(path) !== undefined || fieldNotes(path).error) return true;
	if (onlyWith !== undefined && at(onlyWith) === undefined) return false;
	if (unless !== undefined && at(unless) !== undefined) return false;
	return onlyFor === undefined || kindOf(path.slice(0, path.lastIndexOf("."))) === onlyFor;
}

/** What a group is: as the document says, else as its default has it. */
function kindOf(group: string): string {
	const { timing } = scenario.value.craft;
	const given = at(group) as { readonly source?: string; readonly kind?: string } | undefined;
	return given?.source ?? given?.kind ?? (group.endsWith("pulse") ? timing.pulse.kind : timing.attitude.kind);
}

/** The editor of one field of the craft. */
export function FieldEditor({ field }: { readonly field: CraftField }): VNode | null {
	if (!isShown(field)) return null;
	const { path, label, about = "", assumedAt = path, groupPath = "" } = field;
	const otherwise =
		typeof field.otherwise === "function" ? field.otherwise(scenario.value) : (field.otherwise ?? "");
	const same = { path, label, about, assumedAt };
	switch (field.as) {
		case "quantity":
			return (
				<QuantityField {...same} {...{ otherwise, groupPath }} kind={field.kind} word={field.word ?? ""} />
			);
		case "number":
		case "whole":
		case "text":
			return <TypedField {...same} otherwise={otherwise} reader={readerOf(field.as)} />;
		case "long text":
			return <LongTextField path={path} label={label} />;
		case "choice":
			return <ChoiceField {...same} {...(otherwise ? { otherwise } : {})} options={field.options} />;
		case "kind":
			return <KindField field={field} />;
		case "vector":
			return (
				<VectorField
					path={path}
					label={label}
					about={about}
					of={field.of}
					parts={field.parts(scenario.value)}
					more={field.more ?? []}
					now={field.now(scenario.value)}
				/>
			);
		case "spread":
			return <SpreadField path={path} label={label} />;
		case "signal loss":
			return <SignalLossField path={path} label={label} />;
		case "table":
			return <ListTable field={field} />;
		case "matrix":
			return (
				<TableField
					path={path}
					label={label}
					about={about}
					row="stick"
					columns={field.columns}
					rows={field.rows.map((name) => ({ name, path: `${path}.${name}` }))}
				/>
			);
		case "parts":
			return <PartsEditor />;
		case "rotors":
			return <RotorsEditor />;
		case "bench":
			return <BenchEditor />;
		case "limb":
			return <LimbEditor />;
	}
}

function KindField({ field: { path, key, label, options } }: { readonly field: KindSpec }) {
	return (
		<ChoiceField
			path={`${path}.${key}`}
			assumedAt={path}
			label={label}
			options={options}
			write={(to) => {
				const option = options.find((each) => each.value === to);
				run(setKind(path, key, option?.value, option?.keys ?? [], label));
			}}
		/>
	);
}

function ListTable({ field }: { readonly field: TableSpec }) {
	const { path, label, about = "", row, rowName, columns, least, most, begin, rising } = field;
	const list = at(path);
	const rows = Array.isArray(list) ? list : null;
	const { assumed } = fieldNotes(path);
	if (!rows)
		return (
			<div class="table-field">
				<p>
					{label}: <span class="quiet">{assumed ? assumed.value : "not written down"}</span>
				</p>
				{assumed ? (
					<p class="quiet small">
						Assumed, because {assumed.because}. Source: {assumed.source}. To measure: {assumed.measure}.
					</p>
				) : null}
				<div class="row small">
					<button
						type="button"
						aria-label={`Write it down, to change: ${label}`}
						onClick={() => run(setValue(path, begin(scenario.value), label))}
					>
						Write it down, to change
					</button>
				</div>
			</div>
		);
	const first = columns[0]!;
	return (
		<TableField
			path={path}
			label={label}
			about={about}
			row={row}
			columns={columns}
			rows={rows.map((_, i) => ({
				name: rowName?.(scenario.value, i) ?? String(i + 1),
				path: `${path}[${i}]`,
			}))}
			remove={{ least, run: (i) => run(removeEntry(path, i, `take out ${row} ${i + 1}`)) }}
		>
			<button
				type="button"
				disabled={rows.length >= most}
				onClick={() =>
					run(addEntry(path, typeof first.key === "number" ? columns.map(() => 0) : {}, `add a ${row}`))
				}
			>
				Add a {row}
			</button>
			{rising ? (
				<button
					type="button"
					onClick={() => run(sortRows(path, String(first.key), first.of as KindName, `sort ${label}`))}
				>
					Sort by {first.label}
				</button>
			) : null}
			<button
				type="button"
				class="plain"
				onClick={() => run(setValue(path, undefined, `take out: ${label}`))}
			>
				Take out the list
			</button>
		</TableField>
	);
}
