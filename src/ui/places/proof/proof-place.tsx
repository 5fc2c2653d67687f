import { useComputed } from "@preact/signals";
import { useMemo } from "preact/hooks";
import {
	type DrawnFlight,
	stripPicture,
	stripValues,
	tracesPicture,
} from "../../../pictures/flight-pictures.ts";
import { namedSet } from "../../../pictures/letters.ts";
import { valuesAt } from "../../../pictures/values-at.ts";
import { type CountedFlight, flightNumbers } from "../../../report/flight-numbers.ts";
import { lookAt } from "../../commands/look-at.ts";
import { useAnswers } from "../../engine/answers.ts";
import { chosenDrill, chosenPoint, shownSets } from "../../state/chosen.ts";
import { narrow } from "../../state/narrow.ts";
import { run, scenario, scenarioText } from "../../state/store.ts";
import { PictureView } from "../../widgets/picture-view.tsx";
import { endOf, Replay } from "../../widgets/replay.tsx";
import { TimeCursor } from "../../widgets/time-cursor.tsx";
import { DrillEditor } from "./drill-editor.tsx";
import { LineUp } from "./line-up.tsx";
import { LoadCompare } from "./load-compare.tsx";
import "./proof.css";

/** At most two sets at full strength in one picture. */
const MOST_DRAWN = 2;

export function ProofPlace() {
	const { drills, gainSets, craft } = scenario.value;
	const drill = drills.find((each) => each.name === chosenDrill.value);
	const flown = useAnswers("flight", () =>
		chosenDrill.value === ""
			? []
			: shownSets.value.map((set) => ({
					text: scenarioText.value,
					point: chosenPoint.value,
					set,
					drill: chosenDrill.value,
				})),
	);
	const drawn = useComputed(() =>
		shownSets.value.flatMap((name, i) => {
			const set = scenario.value.gainSets.find((each) => each.name === name);
			const found = flown.value[i]?.value;
			return set && found ? [{ ...namedSet(set, scenario.value.gainSets), ...found }] : [];
		}),
	);
	const stale = flown.value.some((each) => !each.fresh);
	const pictured = useComputed(() => drawn.value.slice(0, MOST_DRAWN)).value;
	return (
		<>
			<section class="sheet" aria-labelledby="drill-title">
				<header>
					<h2 id="drill-title">Drill</h2>
					<label>
						<span class="visually-hidden">Which drill</span>
						<select
							value={chosenDrill.value}
							onChange={(event) => run(lookAt({ drill: event.currentTarget.value }))}
						>
							{drills.map(({ name }) => (
								<option key={name}>{name}</option>
							))}
						</select>
					</label>
				</header>
				<p>{drill?.about}</p>
				{gainSets.length === 0 ? <p class="quiet">No gain set to fly yet.</p> : null}
				{flown.value.map((each, i) =>
					each.error ? (
						<p class="stop" key={shownSets.value[i]}>
							{shownSets.value[i]}: {each.error}
						</p>
					) : null,
				)}
				{flown.value.flatMap((each, i) => {
					const { json, flight } = each.value ?? {};
					const name = shownSets.value[i];
					return [
						...(json?.fails ?? []).map((sentence) => (
							<p class="stop" key={`${name}${sentence}`}>
								<b>{name}</b>: {sentence}.
							</p>
						)),
						...(flight?.notes ?? []).map((sentence) => (
							<p class="quiet" key={`${name}${sentence}`}>
								<b>{name}</b>, by itself: {sentence}.
							</p>
						)),
						...(flight?.outsideModel ?? []).map((sentence) => (
							<p class="care" key={`${name}${sentence}`}>
								<b>{name}</b>, outside the model: {sentence}.
							</p>
						)),
					];
				})}
				{drawn.value.length > MOST_DRAWN ? (
					<p class="quiet">
						Pictures show {pictured.map((each) => each.letter).join(" and ")}, the first two; the table below
						has all.
					</p>
				) : null}
			</section>
			{pictured.length > 0 ? <Followed flights={pictured} stale={stale} invented={craft.invented} /> : null}
			<DrillEditor />
			<LineUp flown={flown} />
			<LoadCompare />
		</>
	);
}

/** Silhouettes, replay and traces of the same flights: one cursor goes through all of them. */
function Followed({
	flights,
	stale,
	invented,
}: {
	readonly flights: readonly (DrawnFlight & CountedFlight)[];
	readonly stale: boolean;
	readonly invented: boolean;
}) {
	const drill = chosenDrill.value;
	const point = chosenPoint.value;
	const brief = narrow.value;
	const { craft } = scenario.value;
	const head = { note: `operating point ${point}`, invented };
	const strip = useMemo(
		() => ({
			picture: stripPicture({ ...head, title: "Attitude along time" }, flights, {
				count: brief ? 6 : 12,
				brief,
			}),
			values: stripValues(flights, brief),
		}),
		[flights, point, invented, brief],
	);
	const traces = useMemo(() => {
		const picture = {
			...tracesPicture({ ...head, title: `Drill '${drill}'` }, flights, craft),
			numbers: flightNumbers(flights, null),
		};
		return {
			picture,
			values: (timeSec: number) => picture.panels.map((panel) => valuesAt(panel, timeSec)),
		};
	}, [flights, drill, point, invented, craft]);
	const endSec = endOf(flights);
	const cursorOver = (of: typeof strip | typeof traces) => (widthPx: number) => (
		<TimeCursor {...of} widthPx={widthPx} endSec={endSec} />
	);
	return (
		<div class="followed">
			<section class="sheet strip-sheet" aria-labelledby="strip-title">
				<h2 id="strip-title" class="visually-hidden">
					Attitude along time
				</h2>
				<p class="quiet small">
					Point at an instant, tap it, or step it with the arrow keys: silhouettes, replay and traces follow.
				</p>
				<PictureView stale={stale} picture={strip.picture} over={cursorOver(strip)} />
			</section>
			<Replay flights={flights} />
			<section class="sheet traces-sheet" aria-labelledby="traces-title">
				<h2 id="traces-title" class="visually-hidden">
					Traces
				</h2>
				<PictureView stale={stale} picture={traces.picture} over={cursorOver(traces)} />
			</section>
		</div>
	);
}
