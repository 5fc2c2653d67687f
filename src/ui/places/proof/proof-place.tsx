import { useComputed } from "@preact/signals";
import { stripPicture, tracesPicture } from "../../../pictures/flight-pictures.ts";
import { namedSet } from "../../../pictures/letters.ts";
import { lookAt } from "../../commands/look-at.ts";
import { useAnswers } from "../../engine/answers.ts";
import { chosenDrill, chosenPoint, shownSets } from "../../state/chosen.ts";
import { run, scenario, scenarioText } from "../../state/store.ts";
import { PictureView } from "../../widgets/picture-view.tsx";
import { Replay } from "../../widgets/replay.tsx";
import { DrillEditor } from "./drill-editor.tsx";
import { LineUp } from "./line-up.tsx";
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
			const flight = flown.value[i]?.value?.flight;
			return set && flight ? [{ ...namedSet(set, scenario.value.gainSets), flight }] : [];
		}),
	);
	const stale = flown.value.some((each) => !each.fresh);
	const head = {
		title: `Drill '${chosenDrill.value}'`,
		note: `operating point ${chosenPoint.value}`,
		invented: craft.invented,
	};
	const pictured = drawn.value.slice(0, MOST_DRAWN);
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
				{pictured.length > 0 ? (
					<>
						<PictureView
							stale={stale}
							picture={stripPicture({ ...head, title: "Attitude along time" }, pictured)}
						/>
						<PictureView stale={stale} picture={tracesPicture(head, pictured)} />
					</>
				) : null}
			</section>
			<DrillEditor />
			<Replay flights={pictured} />
			<LineUp flown={flown} />
		</>
	);
}
