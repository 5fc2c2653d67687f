import type { LimbLink } from "../../../../craft/limb-model.ts";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addEntry } from "../../../commands/add-entry.ts";
import { removeEntry } from "../../../commands/remove-entry.ts";
import { setValue } from "../../../commands/set-value.ts";
import { scenario, state } from "../../../state/store.ts";
import { Entries, type Entry } from "./entries.tsx";
import { Lines } from "./lines.tsx";
import { LinkFields } from "./link-fields-editor.tsx";

const PATH = "craft.limb.links";
const MOST = 4;

/** The reach arm: one to four links one after another, described folded. */
export function LimbEditor() {
	const list = valueAt(state.value.document, parsePath(PATH));
	const links = (Array.isArray(list) ? list : []) as readonly Entry[];
	const known = scenario.value.craft.limb?.links ?? [];
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
			<Entries
				path={PATH}
				label="Links of the reach arm"
				entries={links}
				summary={(link, i) => <LinkLine link={link} known={known[i]} />}
				fields={(link, i) => <LinkFields index={i} link={link} known={known[i]} />}
				remove={{
					words: links.length === 1 ? "Take out the reach arm" : "Take it out",
					command: (link, i) =>
						links.length === 1
							? setValue("craft.limb", undefined, "take out the reach arm")
							: removeEntry(PATH, i, `take out ${String(link["name"] ?? "a link")}`),
				}}
				add={{
					words: links.length === 0 ? "Add a reach arm" : "Add a link",
					disabled: links.length >= MOST,
					command: () => addEntry(PATH, { name: `link ${links.length + 1}`, axis: "pitch" }, "add a link"),
				}}
			>
				<span class="quiet small">{links.length === 0 ? "" : `${links.length} of 1 to ${MOST}`}</span>
			</Entries>
		</div>
	);
}

interface LineProps {
	readonly link: Entry;
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
