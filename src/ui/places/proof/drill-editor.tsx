import { useState } from "preact/hooks";
import { many } from "../../../report/format.ts";
import {
	addDrill,
	addEvent,
	copyDrill,
	drillsOf,
	removeDrill,
	removeEvent,
	setDrillField,
	setEventField,
} from "../../commands/drills.ts";
import { chosenDrill } from "../../state/chosen.ts";
import { errors, run, scenario, state } from "../../state/store.ts";
import { eventFields, eventKinds, eventValue, shownValue } from "./event-kinds.ts";

const PLAIN: readonly { readonly key: string; readonly label: string; readonly about: string }[] = [
	{ key: "duration", label: "Lasts", about: "such as 3 s" },
	{ key: "height", label: "Height of the feet", about: "such as 10 m; not from the ground" },
	{ key: "start", label: "Begins", about: "hover or ground" },
	{ key: "seed", label: "Seed of the noise", about: "a whole number" },
	{ key: "wind", label: "Wind", about: 'such as {"turbulence": "light"}' },
	{ key: "ground", label: "Ground", about: 'such as {"slope": "5 deg"}' },
];

/** A drill of one's own, composed from timed events; the plain ones can be looked at and copied. */
export function DrillEditor() {
	const kinds = eventKinds(scenario.value.craft);
	const [kind, setKind] = useState(kinds[0]!.kind);
	const written = drillsOf(state.value);
	const index = written.findIndex((each) => each.name === chosenDrill.value);
	const drill = written[index];
	const events = (drill?.["events"] ?? []) as readonly Readonly<Record<string, unknown>>[];
	const wrong = errors.value.filter((each) => each.path.startsWith(`drills[${index}]`));
	return (
		<details class="sheet group">
			<summary>
				<h2>Compose a drill</h2>
				<span class="quiet small">
					{drill ? many(events.length, "event") : "this one is a plain drill of every craft"}
				</span>
			</summary>
			<div class="row">
				<button type="button" onClick={() => run(addDrill("my drill"))}>
					New drill
				</button>
				<button type="button" disabled={!drill} onClick={() => run(copyDrill(chosenDrill.value))}>
					Copy this one
				</button>
				<button type="button" disabled={!drill} onClick={() => run(removeDrill(chosenDrill.value))}>
					Take it out
				</button>
			</div>
			{wrong.map((each) => (
				<p class="stop" key={each.message}>
					{each.message}
				</p>
			))}
			{drill ? (
				<>
					<div class="fields">
						{PLAIN.map(({ key, label, about }) => (
							<TextField
								key={`${drill.name}${key}`}
								label={label}
								about={about}
								value={drill[key]}
								onChange={(value) => run(setDrillField(drill.name, key, value))}
							/>
						))}
					</div>
					<ol class="events">
						{events.map((event, i) => (
							<li key={i}>
								<b>{kinds.find((each) => each.kind === event["kind"])?.title ?? String(event["kind"])}</b>
								<div class="fields">
									{eventFields(event).map(({ key, value, about }) => (
										<TextField
											key={key}
											label={key}
											about={about}
											value={value}
											onChange={(to) => run(setEventField(drill.name, i, key, to))}
										/>
									))}
								</div>
								<button type="button" class="plain" onClick={() => run(removeEvent(drill.name, i))}>
									Take this event out
								</button>
							</li>
						))}
					</ol>
					<div class="row">
						<label>
							<span class="visually-hidden">Kind of event</span>
							<select value={kind} onChange={(event) => setKind(event.currentTarget.value)}>
								{kinds.map((each) => (
									<option key={each.kind} value={each.kind}>
										{each.title}
									</option>
								))}
							</select>
						</label>
						<button
							type="button"
							onClick={() =>
								run(addEvent(drill.name, { kind, ...kinds.find((each) => each.kind === kind)?.first }))
							}
						>
							Add event
						</button>
					</div>
				</>
			) : null}
		</details>
	);
}

function TextField({
	label,
	about = "",
	value,
	onChange,
}: {
	readonly label: string;
	readonly about?: string;
	readonly value: unknown;
	readonly onChange: (value: unknown) => void;
}) {
	const [typing, setTyping] = useState<string | null>(null);
	const shown = value === undefined ? "" : shownValue(value);
	const commit = (): void => {
		if (typing !== null && typing !== shown) onChange(eventValue(typing));
		setTyping(null);
	};
	return (
		<label class="field">
			<span>{label}</span>
			<input
				type="text"
				autoComplete="off"
				spellcheck={false}
				placeholder={about}
				value={typing ?? shown}
				onInput={(event) => setTyping(event.currentTarget.value)}
				onBlur={commit}
				onKeyDown={(event) => {
					if (event.key === "Enter") commit();
					else if (event.key === "Escape") setTyping(null);
				}}
			/>
		</label>
	);
}
