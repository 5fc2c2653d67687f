import { CraftPlace } from "./places/craft/craft-place.tsx";
import { FieldPlace } from "./places/field/field-place.tsx";
import { GainsPlace } from "./places/gains/gains-place.tsx";
import { ProofPlace } from "./places/proof/proof-place.tsx";
import { FindingsLine } from "./shell/findings-line.tsx";
import { PlacePath } from "./shell/place-path.tsx";
import { Rack } from "./shell/rack.tsx";
import { state } from "./state/store.ts";

const PLACES = { craft: CraftPlace, gains: GainsPlace, proof: ProofPlace, field: FieldPlace };

export function App() {
	const Place = PLACES[state.value.view.place];
	return (
		<>
			<header class="top">
				<PlacePath />
				<FindingsLine />
			</header>
			<main id="place">
				<Place />
			</main>
			<Rack />
		</>
	);
}
