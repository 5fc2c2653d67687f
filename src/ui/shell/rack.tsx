import { useState } from "preact/hooks";
import { namedSet } from "../../pictures/letters.ts";
import { lookAt } from "../commands/look-at.ts";
import { copySet, removeSet, renameSet, toggleShown } from "../commands/rack.ts";
import { baseSet, chosenSet } from "../state/chosen.ts";
import { run, scenario, state } from "../state/store.ts";
import { SetBadge } from "../widgets/set-badge.tsx";

/** The gain sets, always in sight: choose one to work on, switch others on beside it. */
export function Rack() {
	const [open, setOpen] = useState(false);
	const sets = scenario.value.gainSets;
	const chosen = sets.find((set) => set.name === chosenSet.value);
	return (
		<footer class={open ? "foot open" : "foot"}>
			<section class="rack" aria-label="Rack of gain sets">
				<button type="button" class="fold" aria-expanded={open} onClick={() => setOpen(!open)}>
					Sets
					{chosen ? <SetBadge {...namedSet(chosen, sets)} /> : null}
				</button>
				{sets.length === 0 ? (
					<p class="quiet">No gain set yet: starting gains are found under Gains.</p>
				) : null}
				<ul>
					{sets.map((set) => (
						<RackSet key={set.name} name={set.name} />
					))}
				</ul>
			</section>
		</footer>
	);
}

function RackSet({ name }: { readonly name: string }) {
	const [naming, setNaming] = useState(false);
	const sets = scenario.value.gainSets;
	const set = sets.find((each) => each.name === name)!;
	const label = namedSet(set, sets);
	const isChosen = name === chosenSet.value;
	const isShown = state.value.view.shown.includes(name);
	return (
		<li class={isChosen ? "chosen" : undefined}>
			{naming ? (
				<input
					type="text"
					aria-label={`Name of set ${name}`}
					value={name}
					// biome-ignore lint/a11y/noAutofocus: it takes the place of the button just pressed
					autoFocus
					onBlur={(event) => {
						setNaming(false);
						run(renameSet(name, event.currentTarget.value));
					}}
					onKeyDown={(event) => {
						if (event.key === "Enter" || event.key === "Escape") {
							if (event.key === "Escape") event.currentTarget.value = name;
							event.currentTarget.blur();
						}
					}}
				/>
			) : (
				<button type="button" aria-pressed={isChosen} onClick={() => run(lookAt({ set: name }))}>
					<SetBadge {...label} />{" "}
					{label.name === `set ${name}` ? <span class="visually-hidden">{name}</span> : name}
				</button>
			)}
			<label class="small">
				<input
					type="checkbox"
					checked={isShown || isChosen}
					disabled={isChosen}
					onChange={() => run(toggleShown(name))}
				/>{" "}
				shown
			</label>
			<details class="more" name="rack-more">
				<summary aria-label={`More for set ${name}`}>more</summary>
				<div class="row">
					<button type="button" onClick={() => run(copySet(name))}>
						Copy
					</button>
					<button type="button" onClick={() => setNaming(true)}>
						Name
					</button>
					<button
						type="button"
						aria-pressed={baseSet.value === name}
						onClick={() => run(lookAt({ base: name }))}
					>
						Compare against
					</button>
					<button type="button" onClick={() => run(removeSet(name))}>
						Take out
					</button>
				</div>
			</details>
		</li>
	);
}
