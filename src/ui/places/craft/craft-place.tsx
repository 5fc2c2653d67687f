import { scenario } from "../../state/store.ts";
import { FlownStep } from "../../widgets/flown-step.tsx";
import { OwnCraft } from "./own-craft.tsx";

export function CraftPlace() {
	return (
		<div class="pair">
			{scenario.value.craft.invented ? <OwnCraft /> : null}
			<FlownStep />
		</div>
	);
}
