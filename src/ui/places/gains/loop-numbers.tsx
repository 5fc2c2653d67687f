import type { AxisName, GainSet } from "../../../control/spec.ts";
import type { GainKey } from "../../commands/set-gain.ts";
import { gainUnit } from "../../entry/gain-units.ts";
import { scenario } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";
import "../../widgets/picture-numbers.css";

const figure = (value: number): string => String(Number(value.toPrecision(6)));

/** The gains on the wires of the loop drawing: as the builder's code has them and as the mathematics has them. */
export function LoopNumbers({
	id,
	set,
	axis,
	gains,
}: {
	readonly id: string;
	readonly set: GainSet;
	readonly axis: AxisName;
	readonly gains: readonly { readonly gain: GainKey; readonly label: string }[];
}) {
	const { firmware } = scenario.value;
	return (
		<details id={id} class="numbers">
			<summary>
				Numbers<span class="visually-hidden"> of the loop</span>
			</summary>
			<DataTable
				caption={`Gains on the wires of ${axis}, set ${set.name}`}
				columns={[
					{ title: "gain" },
					{ title: "in your code", number: true },
					{ title: "unit there" },
					{ title: "internal", number: true },
					{ title: "unit" },
				]}
				rows={gains.map(({ gain, label }) => {
					const typed = gainUnit(set, axis, gain, firmware, true);
					const inside = gainUnit(set, axis, gain, firmware, false);
					const value = set[axis][gain];
					return [
						label,
						figure(value * typed.factor),
						typed.unit,
						figure(value * inside.factor),
						inside.unit,
					];
				})}
			/>
		</details>
	);
}
