import { scenario, state } from "../../state/store.ts";
import { ChoiceField } from "../../widgets/choice-field.tsx";
import { DataTable } from "../../widgets/data-table.tsx";
import { QuantityField } from "../../widgets/quantity-field.tsx";
import { FIELD_GROUPS } from "./field-groups.ts";

const CHOICES: Readonly<
	Record<
		string,
		readonly { readonly path: string; readonly label: string; readonly options: readonly string[] }[]
	>
> = {
	Airframe: [
		{
			path: "craft.layout",
			label: "Where the rotors are",
			options: ["X", "plus", "hex", "hex plus", "octo", "octo plus"],
		},
		{
			path: "craft.frontRightSpin",
			label: "First rotor, seen from above",
			options: ["clockwise", "counter-clockwise"],
		},
	],
};

/** Every field of the craft, grouped as a builder thinks; assumed ones look assumed. */
export function CraftFields() {
	const craft = (state.value.document["craft"] ?? {}) as Readonly<Record<string, unknown>>;
	const listed = new Set(
		FIELD_GROUPS.flatMap((group) => group.fields.flatMap((each) => [each.path, each.assumedAt ?? each.path])),
	);
	for (const choices of Object.values(CHOICES)) for (const each of choices) listed.add(each.path);
	const others = scenario.value.assumed.filter((each) => !listed.has(each.path));
	return (
		<>
			{FIELD_GROUPS.map((group) => {
				const assumed = scenario.value.assumed.filter((each) =>
					group.fields.some((field) => (field.assumedAt ?? field.path) === each.path),
				).length;
				return (
					<details
						class="sheet group"
						key={group.title}
						open={group.title === "Airframe" || group.title === "Rotors and motors"}
					>
						<summary>
							<h2>{group.title}</h2>
							<span class="quiet small">{assumed === 0 ? "nothing assumed" : `${assumed} assumed`}</span>
						</summary>
						<p class="quiet">{group.about}</p>
						<div class="fields">
							{(CHOICES[group.title] ?? [])
								.filter(() => craft["rotors"] === undefined)
								.map((each) => (
									<ChoiceField key={each.path} {...each} />
								))}
							{group.fields.map((field) => (
								<QuantityField key={field.path} {...field} />
							))}
						</div>
					</details>
				);
			})}
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
