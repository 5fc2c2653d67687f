import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { PageJobs } from "../../../../workers/page-jobs.ts";
import { JobCancelled } from "../../../../workers/pool.ts";
import { scheduleRule } from "../../../report/schedule-words.ts";
import { gainSetDocument } from "../../../scenario/gain-set-document.ts";
import type { Character } from "../../../tuning/characters.ts";
import type { Progress } from "../../../tuning/schedule.ts";
import { freeName, putSet } from "../../commands/rack.ts";
import { longWork } from "../../engine/long-work.ts";
import { run } from "../../state/store.ts";
import { ScheduleTables } from "../../widgets/schedule-tables.tsx";

interface State {
	readonly progress: Progress | null;
	readonly found: PageJobs["schedule"]["result"] | null;
	readonly error: string;
}

const NOTHING: State = { progress: null, found: null, error: "" };

/** Gains that follow pose and load of the reach arm, on request: a minute or so. */
export function FollowingGains({
	text,
	character,
}: {
	readonly text: string;
	readonly character: Character;
}) {
	const [asked, setAsked] = useState(false);
	const [state] = useState(() => signal<State>(NOTHING));
	useEffect(() => {
		if (!asked) return undefined;
		const stop = new AbortController();
		const put = (next: State): void => {
			if (!stop.signal.aborted) state.value = next;
		};
		state.value = NOTHING;
		longWork()
			.run(
				"schedule",
				{ text, character },
				{ signal: stop.signal, onProgress: (progress) => put({ ...NOTHING, progress }) },
			)
			.then(
				(found) => put({ ...NOTHING, found }),
				(error: unknown) => {
					if (!(error instanceof JobCancelled))
						put({ ...NOTHING, error: error instanceof Error ? error.message : String(error) });
				},
			);
		return () => stop.abort();
	}, [asked, text, character, state]);
	const { progress, found, error } = state.value;
	return (
		<section aria-labelledby="following-title">
			<h3 id="following-title">Gains that follow pose and load</h3>
			{asked ? null : (
				<p>
					<button type="button" onClick={() => setAsked(true)}>
						Find gains that follow pose and load
					</button>{" "}
					<span class="quiet">
						Where no one set serves, or to be firmer where there is more to turn: each gain goes over smoothly
						between poses and loads that have their own. A minute or so.
					</span>
				</p>
			)}
			{asked && !found && !error ? (
				<p aria-live="polite">
					{progress ? `${progress.doing}: ${progress.done} of ${progress.of}` : "Begins."}{" "}
					<button type="button" onClick={() => setAsked(false)}>
						Stop
					</button>
				</p>
			) : null}
			{error ? <p class="stop">{error}</p> : null}
			{found && !found.gainSet ? (
				<p class="stop">None keep every limit: {found.json.infeasibleBecause}.</p>
			) : null}
			{found?.gainSet ? <Found {...found} character={character} /> : null}
		</section>
	);
}

function Found({
	gainSet,
	json,
	character,
}: PageJobs["schedule"]["result"] & { readonly character: Character }) {
	return (
		<>
			<ScheduleTables
				points={json.points.map((each) => ({ ...each, angleDeg: each.poseDeg[0]! }))}
				hinge={json.hinge}
			/>
			<p class="quiet">
				Every limit holds, every loop closed, at {json.checked} poses and loads. {scheduleRule(json.hinge)}{" "}
				Fly the limb's drills in Proof before the craft does.
			</p>
			<p>
				<button
					type="button"
					class="main"
					onClick={() =>
						run({
							name: `gains that follow pose and load, ${character}`,
							apply: (now) => {
								const name = freeName(now);
								const note = `Starting gains, character ${character}, following pose and load.`;
								return putSet({ ...gainSetDocument({ ...gainSet!, name }, note), name }).apply(now);
							},
						})
					}
				>
					Put into the rack
				</button>
			</p>
		</>
	);
}
