import type { Command } from "../state/model.ts";
import { readEntry, readList, write } from "./change-document.ts";

interface DrillEvent {
	readonly kind?: unknown;
	readonly link?: unknown;
}

/** A link of the limb under another name; drills that move it and gains that follow it go along. */
export function renameLink(index: number, name: string | undefined): Command {
	return {
		name: "name of a link",
		apply(state) {
			const links = "craft.limb.links";
			const { name: before } = readEntry(state.document, links, index) as { readonly name?: unknown };
			let document = write(state.document, `${links}[${index}].name`, name);
			if (name === undefined || typeof before !== "string") return { ...state, document };
			readList(document, "drills").forEach((_, i) => {
				const path = `drills[${i}].events`;
				const events = readList(document, path) as readonly DrillEvent[];
				const isMeant = ({ kind, link }: DrillEvent): boolean => kind === "limb" && link === before;
				if (events.some(isMeant))
					document = write(
						document,
						path,
						events.map((each) => (isMeant(each) ? { ...each, link: name } : each)),
					);
			});
			readList(document, "gainSets").forEach((set, i) => {
				const { schedule } = set as { readonly schedule?: { readonly hinge?: unknown } };
				if (schedule?.hinge === before) document = write(document, `gainSets[${i}].schedule.hinge`, name);
			});
			return { ...state, document };
		},
	};
}
