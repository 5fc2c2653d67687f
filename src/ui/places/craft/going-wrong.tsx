import { useState } from "preact/hooks";
import { useAnswer } from "../../engine/answers.ts";
import { chosenPoint, chosenSet } from "../../state/chosen.ts";
import { scenarioText } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";

const question = () => ({ text: scenarioText.value, point: chosenPoint.value, set: chosenSet.value });

/** The ten ways that this craft with these gains would most likely be lost in its first minute, every one flown. */
export function FirstMinuteList() {
	const [asked, setAsked] = useState(false);
	const answer = useAnswer("firstMinute", () => (asked && chosenSet.value !== "" ? question() : null));
	const { value, error, fresh } = answer.value;
	return (
		<section class="sheet" aria-labelledby="minute-title">
			<h2 id="minute-title">The first minute</h2>
			<p class="quiet">
				Few craft are lost to a margin: they are lost to a swapped motor, a turned board, a loop that stops.
				The ten ways this one would most likely go, each flown, and how to notice it on the bench with the
				propellers off.
			</p>
			{asked ? null : (
				<div class="row">
					<button type="button" onClick={() => setAsked(true)} disabled={chosenSet.value === ""}>
						Fly them
					</button>
				</div>
			)}
			{asked && error ? <p class="stop">{error}</p> : null}
			{asked && !value && !error ? (
				<p class="quiet">Flying every way to lose it; about ten seconds.</p>
			) : null}
			{value ? (
				<ol class={fresh ? "ways" : "ways stale"}>
					{value.ways.map((way) => (
						<li key={way.way}>
							<b>{way.title}</b>
							{way.lostSec === null ? null : (
								<span class="quiet">, lost after {way.lostSec.toFixed(2)} s</span>
							)}
							<p>{way.first}</p>
							<p class="quiet">On the bench: {way.bench}</p>
						</li>
					))}
				</ol>
			) : null}
		</section>
	);
}

/** Every mistake in building: what it looks like, how to see it on the bench, what tells it from the others. */
export function WrongBuildsTable() {
	const [asked, setAsked] = useState(false);
	const answer = useAnswer("wrongBuilds", () => (asked && chosenSet.value !== "" ? question() : null));
	const { value, error, fresh } = answer.value;
	return (
		<section class="sheet" aria-labelledby="wrong-title">
			<h2 id="wrong-title">Wrong builds</h2>
			<p class="quiet">
				Every mistake that the simulator knows, lifted off with these gains: what the first moment looks like,
				and what the bench shows with the propellers off.
			</p>
			{asked ? null : (
				<div class="row">
					<button type="button" onClick={() => setAsked(true)} disabled={chosenSet.value === ""}>
						Fly every mistake
					</button>
				</div>
			)}
			{asked && error ? <p class="stop">{error}</p> : null}
			{asked && !value && !error ? <p class="quiet">Building it wrong in every way; some seconds.</p> : null}
			{value ? (
				<div class={fresh ? undefined : "stale"}>
					<DataTable
						caption={`Right build: ${value.right.sentence}`}
						columns={[
							{ title: "mistake" },
							{ title: "off the ground" },
							{ title: "on the bench" },
							{ title: "told apart" },
						]}
						rows={value.builds.map((build) => [
							build.motors.length > 0 ? `${build.title}, motor ${build.motors.join(" and ")}` : build.title,
							build.first,
							build.bench,
							build.apart,
						])}
					/>
				</div>
			) : null}
		</section>
	);
}
