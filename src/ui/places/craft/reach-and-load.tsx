import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { JobCancelled } from "../../../../workers/pool.ts";
import { namedSet } from "../../../pictures/letters.ts";
import type { ReachNumbers } from "../../../report/reach-json.ts";
import { reachPicture } from "../../../report/reach-picture.ts";
import { REACH_COLUMN_WORDS, REACH_COLUMNS, reachRows } from "../../../report/reach-table.ts";
import { reachSentence } from "../../../report/reach-words.ts";
import { CHARACTERS, type Character } from "../../../tuning/characters.ts";
import { REACH_POSES } from "../../../tuning/reach-report.ts";
import { longWork } from "../../engine/long-work.ts";
import { chosenPoint, chosenSet } from "../../state/chosen.ts";
import { pointerHeld } from "../../state/held.ts";
import { scenario, scenarioText } from "../../state/store.ts";
import { type DataCell, DataTable } from "../../widgets/data-table.tsx";
import { PictureView } from "../../widgets/picture-view.tsx";
import { LinksTable } from "./links-table.tsx";

interface Found {
	readonly numbers: ReachNumbers | null;
	readonly error: string;
}

const cell = (value: number | null): DataCell => ({
	text: value === null ? "-" : value.toFixed(0),
	exact: value,
});

/** How far the reach arm may go with which load, pose by pose as it is worked out; on request, since it takes some ten seconds. */
export function ReachAndLoad() {
	const [asked, setAsked] = useState(false);
	const [character, setCharacter] = useState<Character>("even");
	const [found] = useState(() => signal<Found>({ numbers: null, error: "" }));
	const text = pointerHeld.value ? null : scenarioText.value;
	const point = chosenPoint.value;
	const set = chosenSet.value;
	useEffect(() => {
		if (!asked || text === null || set === "") return undefined;
		const stop = new AbortController();
		const put = (numbers: ReachNumbers): void => {
			if (!stop.signal.aborted) found.value = { numbers, error: "" };
		};
		longWork()
			.run("reach", { text, point, set, character }, { signal: stop.signal, onProgress: put })
			.then(put, (error: unknown) => {
				if (!(error instanceof JobCancelled))
					found.value = { numbers: null, error: error instanceof Error ? error.message : String(error) };
			});
		return () => stop.abort();
	}, [asked, text, point, set, character, found]);
	const { craft, gainSets } = scenario.value;
	const { limb } = craft;
	if (!limb) return null;
	const { numbers, error } = found.value;
	const link = limb.links[0]!.name;
	const gainSet = gainSets.find((each) => each.name === set);
	const whole = numbers !== null && numbers.poses.length === REACH_POSES;
	const known = gainSet ? namedSet(gainSet, gainSets) : { letter: "", name: set };
	return (
		<section class="sheet" aria-labelledby="reach-title">
			<header>
				<h2 id="reach-title">Reach and load</h2>
				<label>
					limits of{" "}
					<select
						value={character}
						onChange={(event) => setCharacter(event.currentTarget.value as Character)}
					>
						{CHARACTERS.map((each) => (
							<option key={each}>{each}</option>
						))}
					</select>
				</label>
			</header>
			<p class="quiet">
				How far the reach arm may go with which load: at each pose the heaviest with which motors, servos and
				the margins of the chosen gain set still hold.
			</p>
			<LinksTable />
			{asked ? null : (
				<div class="row">
					<button type="button" onClick={() => setAsked(true)} disabled={set === ""}>
						Work it out
					</button>
				</div>
			)}
			{asked && error ? <p class="stop">{error}</p> : null}
			{asked && !error && !whole ? (
				<p class="quiet" role="status">
					{numbers?.poses.length ?? 0} of {REACH_POSES} poses.
				</p>
			) : null}
			{numbers && numbers.poses.length > 1 ? (
				<>
					{whole ? <p>{reachSentence(numbers, link)}</p> : null}
					<PictureView
						picture={reachPicture(numbers, {
							craft: craft.name,
							invented: craft.invented,
							link,
							letter: known.letter,
							setName: known.name,
						})}
						heightPx={600}
						stale={!whole}
					/>
					<DataTable
						caption="Pose by pose"
						columns={[
							{ title: limb.links.map(({ name }) => name).join(", "), unit: "deg" },
							{ title: "reach", unit: "mm", number: true },
							{ title: "motors and servos bear", unit: "g", number: true },
							{ title: "with the margins", unit: "g", number: true },
							{ title: "what stops it" },
						]}
						rows={numbers.poses.map((pose) => [
							pose.poseDeg.map((a) => a.toFixed(0).replace("-", "\u2212")).join(", "),
							cell(pose.reachMm),
							cell(pose.reserveGrams),
							cell(pose.heaviestGrams),
							pose.refused || pose.stops || `nothing up to ${numbers.mostLoadGrams.toFixed(0)} g`,
						])}
					/>
					<details class="numbers">
						<summary>Without a load and with the heaviest, motor by motor</summary>
						<DataTable
							caption={`Set ${set}, hovering and its margins`}
							columns={[
								{ title: limb.links.map(({ name }) => name).join(", "), unit: "deg" },
								...REACH_COLUMNS.map((each) => ({ ...each, number: true })),
							]}
							rows={reachRows(numbers).map((row) => row.map((text) => text.replaceAll("-", "\u2212")))}
						/>
						<p class="quiet">{REACH_COLUMN_WORDS}</p>
					</details>
				</>
			) : null}
		</section>
	);
}
