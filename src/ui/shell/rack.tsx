import { lookAt } from "../commands/look-at.ts";
import { chosenSet } from "../state/chosen.ts";
import { run, scenario } from "../state/store.ts";

/** The gain sets, always in sight. */
export function Rack() {
	return (
		<footer>
			<section class="rack" aria-label="Rack of gain sets">
				{scenario.value.gainSets.map(({ name }) => (
					<button
						type="button"
						key={name}
						aria-pressed={name === chosenSet.value}
						onClick={() => run(lookAt({ set: name }))}
					>
						{name}
					</button>
				))}
			</section>
		</footer>
	);
}
