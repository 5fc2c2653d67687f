import { lookAt } from "../commands/look-at.ts";
import type { Place } from "../state/model.ts";
import { run, state } from "../state/store.ts";

const PLACES: readonly { readonly place: Place; readonly title: string; readonly about: string }[] = [
	{ place: "craft", title: "Craft", about: "what was built" },
	{ place: "gains", title: "Gains", about: "what to type in, and why" },
	{ place: "proof", title: "Proof", about: "flown, side by side" },
	{ place: "field", title: "Field", about: "what to take along" },
];

/** The four places as a path along the top, in the order of the job. */
export function PlacePath() {
	const { place } = state.value.view;
	return (
		<nav class="path" aria-label="Places">
			<ol>
				{PLACES.map((each) => (
					<li key={each.place}>
						<button
							type="button"
							aria-current={each.place === place ? "page" : undefined}
							onClick={() => run(lookAt({ place: each.place }))}
						>
							<b>{each.title}</b> <span>{each.about}</span>
						</button>
					</li>
				))}
			</ol>
		</nav>
	);
}
