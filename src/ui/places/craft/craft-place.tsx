import { scenario } from "../../state/store.ts";
import { Craft3d } from "../../widgets/craft-3d.tsx";
import { FlownStep } from "../../widgets/flown-step.tsx";
import { CraftFields } from "./craft-fields.tsx";
import { CraftNumbers, MassBudget } from "./craft-numbers.tsx";
import { FirstMinuteList, WrongBuildsTable } from "./going-wrong.tsx";
import { LimbFields } from "./limb-fields.tsx";
import { MixerTable } from "./mixer-table.tsx";
import { OwnCraft } from "./own-craft.tsx";
import "./craft.css";

export function CraftPlace() {
	const { craft, name, note, citation } = scenario.value;
	return (
		<>
			<div class="pair">
				{craft.invented ? <OwnCraft /> : null}
				<FlownStep />
			</div>
			<Craft3d />
			<div class="pair">
				<section class="sheet" aria-labelledby="numbers-title">
					<header>
						<h2 id="numbers-title">{name}</h2>
						<p class="quiet small">{citation ?? note}</p>
					</header>
					<CraftNumbers />
				</section>
				<div class="column">
					<section class="sheet" aria-labelledby="mixer-title">
						<h2 id="mixer-title">Motors and sticks</h2>
						<MixerTable />
					</section>
					<section class="sheet" aria-labelledby="mass-title">
						<h2 id="mass-title">Mass and balance</h2>
						<MassBudget />
					</section>
				</div>
			</div>
			<div class="pair">
				<FirstMinuteList />
				<WrongBuildsTable />
			</div>
			<CraftFields />
			<LimbFields />
		</>
	);
}
