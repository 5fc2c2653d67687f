import { useState } from "preact/hooks";
import { errors, scenario } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";
import { ComesTo } from "./comes-to.tsx";
import type { CraftField, FieldGroup } from "./craft-field.ts";
import { FieldEditor } from "./editors/field-editor.tsx";
import { FIELD_GROUPS } from "./field-groups.ts";
import "./craft-fields.css";

const fieldsOf = (group: FieldGroup): readonly CraftField[] => group.sections.flatMap((each) => each.fields);

/** Whether a path of the notes belongs to a field: its own, one inside it, or where its assumption stands. */
const isOf = (path: string, field: CraftField): boolean =>
	path === field.path ||
	path === field.assumedAt ||
	path.startsWith(`${field.path}[`) ||
	path.startsWith(`${field.path}.`);

/** Every field of the craft, grouped as a builder thinks; assumed ones look assumed. */
export function CraftFields() {
	const all = FIELD_GROUPS.flatMap(fieldsOf);
	const others = scenario.value.assumed.filter((each) => !all.some((field) => isOf(each.path, field)));
	return (
		<>
			{errors.value.length > 0 ? (
				<section class="sheet unread" aria-live="polite" aria-label="Not taken up yet">
					<h2>Not taken up yet</h2>
					<p>Every number and picture still shows the craft as it was before this was written:</p>
					<ul>
						{errors.value.map((each) => (
							<li class="stop" key={each.message}>
								{each.message}
							</li>
						))}
					</ul>
				</section>
			) : null}
			{FIELD_GROUPS.map((group, i) => (
				<Group key={group.title} group={group} open={i < 2} />
			))}
			{others.length > 0 ? (
				<details class="sheet group">
					<summary>
						<h2>Also assumed</h2>
						<span class="quiet small">{others.length} values</span>
					</summary>
					<DataTable
						caption="What the scenario does not say and no field above shows"
						columns={[
							{ title: "path" },
							{ title: "value" },
							{ title: "because" },
							{ title: "source" },
							{ title: "to measure" },
						]}
						rows={others.map((each) => [each.path, each.value, each.because, each.source, each.measure])}
					/>
				</details>
			) : null}
		</>
	);
}

function Group({ group, open: first }: { readonly group: FieldGroup; readonly open: boolean }) {
	const [open, setOpen] = useState(first);
	const fields = fieldsOf(group);
	const within = (path: string): boolean => fields.some((field) => isOf(path, field));
	const assumed = scenario.value.assumed.filter((each) => within(each.path)).length;
	const wrong = errors.value.filter((each) => within(each.path)).length;
	return (
		<details class="sheet group" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
			<summary>
				<h2>{group.title}</h2>
				{wrong > 0 ? <span class="stop small">{wrong} not taken up</span> : null}
				<span class="quiet small">{assumed === 0 ? "nothing assumed" : `${assumed} assumed`}</span>
			</summary>
			<p class="quiet">{group.about}</p>
			{first ? <ComesTo /> : null}
			{(open ? group.sections : []).map(({ title, fields: own }) => (
				<section key={title} class="field-section" aria-label={title}>
					{group.sections.length > 1 ? <h3>{title}</h3> : null}
					<div class="fields">
						{own.map((field) => (
							<FieldEditor key={field.path + field.label} field={field} />
						))}
					</div>
				</section>
			))}
		</details>
	);
}
