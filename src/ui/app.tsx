import { Version } from "./offline/new-version.tsx";
import { CraftPlace } from "./places/craft/craft-place.tsx";
import { FieldPlace } from "./places/field/field-place.tsx";
import { GainsPlace } from "./places/gains/gains-place.tsx";
import { ProofPlace } from "./places/proof/proof-place.tsx";
import { FindingsLine } from "./shell/findings-line.tsx";
import { FirstGains } from "./shell/first-gains.tsx";
import { Notice } from "./shell/notice.tsx";
import { PlacePath } from "./shell/place-path.tsx";
import { Rack } from "./shell/rack.tsx";
import { dropping, Tools } from "./shell/tools.tsx";
import { state } from "./state/store.ts";

const PLACES = { craft: CraftPlace, gains: GainsPlace, proof: ProofPlace, field: FieldPlace };

export function App() {
	const Place = PLACES[state.value.view.place];
	return (
		<>
			<header class="top">
				<div class="bar">
					<PlacePath />
					<Tools />
				</div>
				<FindingsLine />
			</header>
			<main id="place">
				<FirstGains />
				<Place />
			</main>
			<Version />
			<Notice />
			<Rack />
			{dropping.value ? <p class="drop">Let go to open the scenario file.</p> : null}
		</>
	);
}
