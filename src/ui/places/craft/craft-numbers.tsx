import type { CraftReport } from "../../../analysis/craft-report-types.ts";
import { useFollowing } from "../../engine/following.ts";
import { chosenPoint, chosenSet } from "../../state/chosen.ts";
import { scenario, scenarioText } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";
import { Exact } from "../../widgets/exact.tsx";

/** What the craft comes to: can it hover, at which stick, how long; and every finding. */
export function CraftNumbers() {
	const answer = useFollowing("report", () => ({
		text: scenarioText.value,
		point: chosenPoint.value,
		set: chosenSet.value || null,
	}));
	const { value, fresh, error } = answer.value;
	if (error) return <p class="stop">{error}</p>;
	if (!value) return <p class="quiet">Weighing it.</p>;
	return (
		<div class={fresh ? "numbers" : "numbers stale"} aria-busy={!fresh}>
			<HoverNumbers report={value.report} />
			<Findings report={value.report} />
		</div>
	);
}

function HoverNumbers({ report }: { readonly report: CraftReport }) {
	const { hover } = report;
	if (!hover) return <p class="stop">{report.whyNoHover || "This craft cannot hover."}</p>;
	const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
	const speedRpm = (hover.rotorSpeedRadPerSec * 30) / Math.PI;
	const entries = [
		[
			"hover stick",
			percent(hover.stick),
			100 * hover.stick,
			`${percent(hover.stickRange[0])} to ${percent(hover.stickRange[1])} over battery, load and thrust`,
		],
		[
			"thrust to weight",
			hover.thrustToWeight.toFixed(2),
			hover.thrustToWeight,
			"what is above 1 climbs and corrects",
		],
		[
			"endurance",
			hover.enduranceMin === null ? "none" : `${hover.enduranceMin.toFixed(1)} min`,
			hover.enduranceMin,
			hover.whyNoEndurance || "hovering in still air; land well before",
		],
		[
			"power",
			`${hover.powerW.toFixed(0)} W`,
			hover.powerW,
			`leaves ${hover.voltageV.toFixed(1)} V of the battery`,
		],
		[
			"throttle slope",
			`${hover.throttleSlope.toPrecision(2)} m/s\u00b2`,
			hover.throttleSlope,
			"of climb for one per cent of stick",
		],
		["rotor speed", `${speedRpm.toFixed(0)} rpm`, speedRpm, "on average, at hover"],
	] as const;
	return (
		<dl class="tally">
			{entries.map(([name, number, exact, note]) => (
				<div key={name}>
					<dt>{name}</dt>
					<dd>
						<b>
							<Exact value={exact}>{number}</Exact>
						</b>
						<span class="quiet small">{note}</span>
					</dd>
				</div>
			))}
		</dl>
	);
}

const RANK = { stop: 0, care: 1, fine: 2 };

function Findings({ report }: { readonly report: CraftReport }) {
	const sorted = [...report.findings].sort((a, b) => RANK[a.level] - RANK[b.level]);
	return (
		<ul class="findings-list">
			{sorted.map((each) => (
				<li key={each.rule + each.sentence}>
					<b class={each.level}>{each.level}</b> {each.sentence} <span class="quiet">{each.reason}</span>
				</li>
			))}
		</ul>
	);
}

/** Which part gives how much: mass, pull on the centre of mass, share of inertia. */
export function MassBudget() {
	const { massOrigin, craft } = scenario.value;
	const { shares } = massOrigin;
	const [x, y, z] = craft.bare.centreOfMassM.map((m) => (1000 * m).toFixed(1));
	const j = craft.bare.inertiaKgM2;
	const whole = [j[0], j[4], j[8]];
	return (
		<>
			<p>
				<b>{(1000 * craft.bare.massKg).toFixed(0)} g</b> without load; centre of mass {x} mm forward, {y} mm
				right, {z} mm down of the reference point; inertia{" "}
				{whole.map((each) => each.toPrecision(4)).join(", ")} kg m{"\u00b2"} about roll, pitch, yaw.
			</p>
			{shares.length === 0 ? (
				<p class="quiet">
					Mass {massOrigin.mass}, centre of mass {massOrigin.centreOfMass}, inertia by {massOrigin.inertia}. A
					parts list, under Airframe and parts below, shows which part gives how much.
				</p>
			) : (
				<DataTable
					caption="Mass budget"
					columns={[
						{ title: "part" },
						{ title: "mass", unit: "g", number: true },
						{ title: "forward", unit: "mm", number: true },
						{ title: "right", unit: "mm", number: true },
						{ title: "down", unit: "mm", number: true },
						{ title: "roll", unit: "% of inertia", number: true },
						{ title: "pitch", unit: "%", number: true },
						{ title: "yaw", unit: "%", number: true },
					]}
					rows={shares.map((share) => [
						share.count === 1 ? share.name : `${share.count} \u00d7 ${share.name}`,
						(1000 * share.massKg).toFixed(0),
						...share.momentKgM.map((m) => ((1000 * m) / craft.bare.massKg).toFixed(1)),
						...[0, 4, 8].map((k, i) => ((100 * share.inertiaKgM2[k]!) / whole[i]!).toFixed(1)),
					])}
				/>
			)}
		</>
	);
}
