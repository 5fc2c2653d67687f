import type { LimbLink } from "../../../../craft/limb-model.ts";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addEntry } from "../../../commands/add-entry.ts";
import { removeEntry } from "../../../commands/remove-entry.ts";
import { setValue } from "../../../commands/set-value.ts";
import { run, scenario, state } from "../../../state/store.ts";
import { Lines } from "./lines.tsx";
import { LinkFields } from "./link-fields-editor.tsx";
import { ListEntry } from "./list-entry.tsx";
import { useEntries } from "./use-entries.ts";

const PATH = "craft.limb.links";
const MOST = 4;

/** The reach arm: one to four links one after another, described folded. */
export function LimbEditor() {
	const { addButton, isNew, keyOf, onAdded, onRemoved } = useEntries();
	const list = valueAt(state.value.document, parsePath(PATH));
	const links = (Array.isArray(list) ? list : []) as readonly Readonly<Record<string, unknown>>[];
	const known = scenario.value.craft.limb?.links ?? [];
	const add = (): void => {
		run(addEntry(PATH, { name: `link ${links.length + 1}`, axis: "pitch" }, "add a link"));
		onAdded(links.length);
	};
	return (
		<div class="list-editor">
			<p class="quiet">
				{links.length === 0
					? "No reach arm. One has up to four links, each on a hinge of the one before."
					: "Described folded, every hinge at 0, places from the airframe's reference point; from the airframe outwards."}
			</p>
			<p class="care small">
				A servo limb pinches and swings as soon as it has power: hands clear, and power it up folded.
			</p>
			<Lines path={PATH} />
			{links.length > 0 ? (
				<ol class="entries" aria-label="Links of the reach arm">
					{links.map((link, i) => (
						<ListEntry
							key={keyOf(i)}
							path={`${PATH}[${i}]`}
							isNew={isNew(i)}
							summary={<LinkLine link={link} known={known[i]} />}
						>
							{() => (
								<>
									<LinkFields index={i} link={link} known={known[i]} />
									<div class="row">
										<button
											type="button"
											onClick={() => {
												run(
													links.length === 1
														? setValue("craft.limb", undefined, "take out the reach arm")
														: removeEntry(PATH, i, `take out ${String(link["name"] ?? "a link")}`),
												);
												onRemoved();
											}}
										>
											{links.length === 1 ? "Take out the reach arm" : "Take it out"}
										</button>
									</div>
								</>
							)}
						</ListEntry>
					))}
				</ol>
			) : null}
			<div class="row">
				<button type="button" ref={addButton} disabled={links.length >= MOST} onClick={add}>
					{links.length === 0 ? "Add a reach arm" : "Add a link"}
				</button>
				<span class="quiet small">{links.length === 0 ? "" : `${links.length} of 1 to ${MOST}`}</span>
			</div>
		</div>
	);
}

interface LineProps {
	readonly link: Readonly<Record<string, unknown>>;
	readonly known: LimbLink | undefined;
}

function LinkLine({ link, known }: LineProps) {
	const { axis } = link;
	return (
		<span class="rotor-line">
			<span>{String(link["name"] ?? "") || "no name"}</span>
			<span>{known ? `${(1000 * known.mass.massKg).toFixed(0)} g` : ""}</span>
			<span>about {Array.isArray(axis) ? axis.join(", ") : String(axis ?? "no axis yet")}</span>
			<span class="quiet">
				{known
					? known.travelRad.map((each) => `${((each * 180) / Math.PI).toFixed(0)} deg`).join(" to ")
					: ""}
			</span>
		</span>
	);
}
