import { useComputed, useSignal } from "@preact/signals";
import { type DrawnFlight, tracesPicture } from "../../../pictures/flight-pictures.ts";
import { namedSet } from "../../../pictures/letters.ts";
import { INK, setLook } from "../../../pictures/looks.ts";
import { type Candidate, compareRows, failures } from "../../../report/compare-rows.ts";
import { hoverRows, type LoadTrade, loadSentence } from "../../../report/load-trade.ts";
import { formatQuantity } from "../../../units/format.ts";
import { useAnswers } from "../../engine/answers.ts";
import { chosenDrill, chosenPoint, chosenSet } from "../../state/chosen.ts";
import type { ScenarioDocument } from "../../state/model.ts";
import { scenario } from "../../state/store.ts";
import { PictureView } from "../../widgets/picture-view.tsx";
import { CompareTable } from "./compare-table.tsx";
import { loadPair } from "./load-pair.ts";

/** The selected set against itself on the drill in sight: without load and with the heaviest. */
export function LoadCompare() {
	const asked = useSignal(false);
	const heaviest = useComputed(() => scenario.value.craft.load.massKg);
	const pair = useComputed(() => {
		const { document, drills, craft } = scenario.value;
		const drill = drills.find(({ name }) => name === chosenDrill.value);
		return asked.value && chosenSet.value !== "" && drill && heaviest.value > 0
			? loadPair(document as ScenarioDocument, chosenPoint.value, drill, craft.limb?.links.length ?? 0)
			: null;
	});
	const about = () => pair.value?.points.map((point) => ({ text: pair.value!.text, point })) ?? [];
	const set = () => chosenSet.value;
	const flown = useAnswers("flight", () =>
		about().map((each) => ({ ...each, set: set(), drill: chosenDrill.value })),
	);
	const margins = useAnswers("margins", () => about().map((each) => ({ ...each, set: set() })));
	const reports = useAnswers("report", () => about().map((each) => ({ ...each, set: set() })));
	const load =
		heaviest.value > 0
			? `${formatQuantity("mass", heaviest.value)}${pair.value?.inGrip ? " in the grip" : ""}`
			: "";
	const all = [...flown.value, ...margins.value, ...reports.value];
	const trouble = all.find((each) => each.error)?.error;
	const complete = all.length > 0 && all.every((each) => each.value !== null);
	return (
		<section class="sheet" aria-labelledby="load-title">
			<header>
				<h2 id="load-title">With and without load</h2>
				<button
					type="button"
					aria-pressed={asked.value}
					disabled={chosenSet.value === "" || heaviest.value === 0}
					onClick={() => {
						asked.value = !asked.value;
					}}
				>
					{asked.value ? "Put away" : "With and without load"}
				</button>
			</header>
			<p class="quiet">
				{heaviest.value === 0
					? "No load to compare with: the heaviest load is a field under Craft."
					: `Flies '${chosenDrill.value}' with set ${chosenSet.value} twice at '${chosenPoint.value}': without load, and with ${load}.`}
			</p>
			{asked.value && trouble ? <p class="stop">{trouble}</p> : null}
			{asked.value && !complete && !trouble ? <p class="quiet">Flying both.</p> : null}
			{complete ? <Compared load={load} stale={all.some((each) => !each.fresh)} {...answers()} /> : null}
		</section>
	);

	function answers() {
		return {
			flown: flown.value.map((each) => each.value!),
			margins: margins.value.map((each) => each.value!),
			reports: reports.value.map((each) => each.value!),
		};
	}
}

type Flown = NonNullable<ReturnType<typeof useAnswers<"flight">>["value"][number]["value"]>;
type Margins = NonNullable<ReturnType<typeof useAnswers<"margins">>["value"][number]["value"]>;
type Report = NonNullable<ReturnType<typeof useAnswers<"report">>["value"][number]["value"]>;

function Compared({
	load,
	stale,
	flown,
	margins,
	reports,
}: {
	readonly load: string;
	readonly stale: boolean;
	readonly flown: readonly Flown[];
	readonly margins: readonly Margins[];
	readonly reports: readonly Report[];
}) {
	const { craft, gainSets } = scenario.value;
	const own = gainSets.find(({ name }) => name === chosenSet.value);
	if (!own || flown.length !== 2) return null;
	const { letter, name: setName } = namedSet(own, gainSets);
	const names = ["without load", `with ${load}`];
	const candidates = names.map((name, i): Candidate => {
		const found = margins[i]!;
		return { name, flights: [flown[i]!.json], margins: found.feasible ? found.report : null };
	});
	const [without, loaded] = candidates.map((each, i) => ({
		name: each.name,
		report: reports[i]!.report,
		fails: failures(each),
	}));
	const rows = compareRows(candidates, names[0]!);
	const trade: LoadTrade = { set: setName, load, rows, without: without!, loaded: loaded! };
	const drawn: DrawnFlight[] = [
		{ letter: "", name: `${setName} ${names[0]}`, look: INK, flight: flown[0]!.flight },
		{ letter, name: `${setName} ${names[1]}`, look: setLook(letter), flight: flown[1]!.flight },
	];
	const head = {
		title: "With and without load",
		note: `drill ${chosenDrill.value}, operating point ${chosenPoint.value}`,
		invented: craft.invented,
	};
	// Lighter is nearly always better: only what fails is marked.
	const unmarked = rows.map((row) => ({
		...row,
		cells: row.cells.map((cell) => ({ ...cell, best: false })),
	}));
	return (
		<>
			<p>{capital(loadSentence(trade))}</p>
			<PictureView stale={stale} picture={tracesPicture(head, drawn, craft)} />
			<CompareTable
				caption={`Same gains, same flight, same air; differences against ${names[0]}`}
				names={names}
				base={names[0]!}
				rows={[...hoverRows(trade), ...unmarked]}
			/>
		</>
	);
}

const capital = (sentence: string): string => sentence.charAt(0).toUpperCase() + sentence.slice(1);
