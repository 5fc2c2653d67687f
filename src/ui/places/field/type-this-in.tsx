import type { GainSet } from "../../../control/spec.ts";
import { describeConversion } from "../../../handover/unit-labels.ts";
import { firmwareGainsJson, gainRows } from "../../../report/gains.ts";
import { schedulePoints } from "../../../report/schedule-points.ts";
import { scheduleRule } from "../../../report/schedule-words.ts";
import { scenario } from "../../state/store.ts";
import { ChoiceField } from "../../widgets/choice-field.tsx";
import { DataTable } from "../../widgets/data-table.tsx";
import { ScheduleTables } from "../../widgets/schedule-tables.tsx";

/** The gains in the units of the builder's own code, with the conversion said in one line. */
export function TypeThisIn({ set }: { readonly set: GainSet }) {
	const { firmware, craft } = scenario.value;
	const { limbLead } = firmwareGainsJson(set, firmware, craft);
	return (
		<section class="sheet" aria-labelledby="type-title">
			<h2 id="type-title">Type this in</h2>
			<DataTable
				caption={`Set ${set.name} in the units of your code`}
				columns={[
					{ title: "gain" },
					{ title: "type this in", number: true },
					{ title: "unit" },
					{ title: "internal" },
					{ title: "what it does" },
				]}
				rows={gainRows(set, firmware, craft).map((each) => [
					`${each.axis} ${each.name}`,
					{ text: each.value, shown: <b>{each.value}</b> },
					each.unit,
					each.internal,
					each.what,
				])}
			/>
			<p class="quiet">Conversion: {describeConversion(set, firmware)}</p>
			{limbLead ? <p class="quiet">{limbLead}</p> : null}
			{set.schedule ? (
				<>
					<h3>Gains that follow pose and load</h3>
					<ScheduleTables points={schedulePoints(set, firmware)} hinge={set.schedule.hinge} />
					<p class="quiet">{scheduleRule(set.schedule.hinge)}</p>
				</>
			) : null}
			<details>
				<summary>How your code writes its numbers</summary>
				<div class="fields">
					<ChoiceField path="firmware.angle" label="Angles in" options={["deg", "rad"]} />
					<ChoiceField path="firmware.output" label="PID output in" options={["us", "fraction", "percent"]} />
					<ChoiceField path="firmware.integral" label="Integral gain is" options={["perSecond", "perTick"]} />
					<ChoiceField
						path="firmware.derivative"
						label="Derivative gain is"
						options={["perSecond", "perTick"]}
					/>
					<ChoiceField path="firmware.form" label="Form" options={["parallel", "standard"]} />
					<ChoiceField
						path="firmware.derivativeFilter"
						label="D's filter is typed as"
						options={["cutoffHz", "exp", "rc"]}
					/>
				</div>
			</details>
		</section>
	);
}
