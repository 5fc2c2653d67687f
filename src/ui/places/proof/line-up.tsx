import type { ReadonlySignal } from "@preact/signals";
import type { PageJobs } from "../../../../workers/page-jobs.ts";
import { type Candidate, compareRows, failures } from "../../../report/compare-rows.ts";
import { tradeSentence } from "../../../report/compare-trade.ts";
import { type Answer, useAnswers } from "../../engine/answers.ts";
import { baseSet, chosenPoint, shownSets } from "../../state/chosen.ts";
import { scenarioText } from "../../state/store.ts";
import { CompareTable } from "./compare-table.tsx";

/** The sets switched on, side by side on the same flight: differences against the base, best and failing marked, what each trades. */
export function LineUp({
	flown,
}: {
	readonly flown: ReadonlySignal<readonly Answer<PageJobs["flight"]["result"]>[]>;
}) {
	const margins = useAnswers("margins", () =>
		shownSets.value.map((set) => ({ text: scenarioText.value, point: chosenPoint.value, set })),
	);
	const candidates = shownSets.value.flatMap((name, i): Candidate[] => {
		const json = flown.value[i]?.value?.json;
		const found = margins.value[i]?.value;
		return json && found ? [{ name, flights: [json], margins: found.feasible ? found.report : null }] : [];
	});
	const complete = candidates.length === shownSets.value.length && candidates.length > 0;
	if (!complete)
		return <p class="quiet">{shownSets.value.length > 0 ? "Working out margins and metrics." : ""}</p>;
	const base = candidates.some((each) => each.name === baseSet.value) ? baseSet.value : candidates[0]!.name;
	const rows = compareRows(candidates, base);
	return (
		<section class="sheet" aria-labelledby="lineup-title">
			<h2 id="lineup-title">{candidates.length > 1 ? "Line-up" : "In numbers"}</h2>
			{candidates.length > 1 ? (
				<ul>
					{candidates
						.filter((each) => each.name !== base)
						.map((each) => (
							<li key={each.name}>{tradeSentence(rows, each.name, base, failures(each))}</li>
						))}
				</ul>
			) : (
				<p class="quiet">Switch another set on in the rack to compare the two on this flight.</p>
			)}
			<CompareTable
				caption={
					candidates.length > 1
						? `Same flight, same air; differences against ${base}`
						: "Margins and flight metrics"
				}
				names={candidates.map((each) => each.name)}
				base={base}
				rows={rows}
			/>
		</section>
	);
}
