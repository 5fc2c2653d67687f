import type { LimbLink } from "../../../../craft/limb-model.ts";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { renameLink } from "../../../commands/rename-link.ts";
import { setValue } from "../../../commands/set-value.ts";
import { run, state } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { LINK_MASS, LINK_PLACES, SERVO_FIELDS } from "../link-fields.ts";
import { EntryFieldEditor } from "./entry-field.tsx";
import { NamesField } from "./names-field.tsx";
import { VectorField } from "./vector-field.tsx";

const DIRECTION = "direction";
const AXES = [
	{ label: "pitch", value: "pitch" },
	{ label: "roll", value: "roll" },
	{ label: "yaw", value: "yaw" },
	{ label: "a direction", value: DIRECTION },
];

interface Props {
	readonly index: number;
	readonly link: Readonly<Record<string, unknown>>;
	/** As the engine read it; undefined while it cannot. */
	readonly known: LimbLink | undefined;
}

/** Every field of one link of the reach arm. */
export function LinkFields({ index, link, known }: Props) {
	const base = `craft.limb.links[${index}]`;
	const parts = valueAt(state.value.document, parsePath("craft.parts"));
	const names = (Array.isArray(parts) ? parts : []).map((each) =>
		String((each as { name?: unknown }).name ?? ""),
	);
	const isDirection = Array.isArray(link["axis"]);
	const j = known?.mass.inertiaKgM2;
	const now = {
		centreOfMass: known ? known.mass.centreOfMassM : null,
		inertia: j ? [j[0], j[4], j[8], j[1], j[2], j[5]] : null,
	};
	return (
		<div class="fields">
			<EntryFieldEditor
				base={base}
				field={LINK_PLACES.name}
				write={(to) => run(renameLink(index, to as string | undefined))}
			/>
			<EntryFieldEditor base={base} field={LINK_PLACES.hinge} />
			<EntryFieldEditor base={base} field={LINK_PLACES.tip} />
			<ChoiceField
				path={`${base}.axis`}
				label="Turns about"
				about="Right-handed: pitch raises what points forward."
				options={AXES}
				otherwise=""
				chosen={isDirection ? DIRECTION : (link["axis"] as string | undefined)}
				write={(to) => run(setValue(`${base}.axis`, to === DIRECTION ? [0, 1, 0] : to, "axis of a link"))}
			/>
			{isDirection ? (
				<VectorField path={`${base}.axis`} label="Direction" of="number" parts={["x", "y", "z"]} now={null} />
			) : null}
			<EntryFieldEditor
				base={base}
				field={LINK_PLACES.travel}
				now={known ? known.travelRad : null}
				isAssumable
			/>
			<EntryFieldEditor base={base} field={LINK_PLACES.diameter} />
			{names.length > 0 || link["parts"] !== undefined ? (
				<NamesField path={`${base}.parts`} label="Parts that move with it" names={names} />
			) : null}
			{LINK_MASS.filter(({ key }) => names.length === 0 || link[key] !== undefined).map((field) => (
				<EntryFieldEditor
					key={field.key}
					base={base}
					field={field}
					now={now[field.key as keyof typeof now] ?? null}
					isAssumable
				/>
			))}
			{SERVO_FIELDS.map((field) => (
				<EntryFieldEditor key={field.key} base={base} field={field} />
			))}
		</div>
	);
}
