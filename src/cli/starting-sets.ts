import { gainSetDocument, withGainSet } from "../scenario/gain-set-document.ts";
import { loadDocument } from "../scenario/load.ts";
import type { Character } from "../tuning/characters.ts";
import { tune } from "../tuning/tune.ts";
import { BadInput } from "./errors.ts";
import type { Io } from "./io.ts";
import { type OpenScenario, openScenario } from "./scenario-file.ts";

/**
 * A scenario whose rack is not empty. A file without gain sets gets starting gains, found here and now and said on
 * stderr, so that a craft of ten lines can be flown at once.
 */
export function openWithSets(io: Io, file: string, characters: readonly Character[]): OpenScenario {
	const opened = openScenario(io, file);
	if (opened.scenario.gainSets.length > 0) return opened;
	io.err(
		`${file} has no gain set: finding starting gains of character ${characters.join(", ")} ('levelhead tune --save' keeps them)\n`,
	);
	let document: unknown = opened.scenario.document;
	for (const character of characters) {
		const changed = opened.scenario.tuning[character];
		const { gainSet, axes } = tune(opened.scenario.craft, {
			character,
			name: character,
			alternatives: false,
			...(changed ? { limits: changed } : {}),
		});
		if (gainSet)
			document = withGainSet(document, gainSetDocument(gainSet, `Starting gains, character ${character}.`));
		else {
			const why = [axes.roll, axes.pitch, axes.yaw].map((axis) => axis.why).filter(Boolean);
			io.err(`no gains of character ${character}: ${why.join("; ")}\n`);
		}
	}
	const loaded = loadDocument(document);
	if (!loaded.ok || loaded.scenario.gainSets.length === 0)
		throw new BadInput(
			`${file} has no gain set, and no starting gains were found`,
			"'levelhead tune' says why; or write a gain set into the file.",
		);
	return { ...opened, text: JSON.stringify(document), scenario: loaded.scenario };
}
