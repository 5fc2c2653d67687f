import { useComputed } from "@preact/signals";
import { AXES } from "../../../control/spec.ts";
import { CAUTIONS } from "../../../report/cautions.ts";
import { stopRules } from "../../../report/stop-rules.ts";
import { useAnswer, useAnswers } from "../../engine/answers.ts";
import { chosenPoint, chosenSet } from "../../state/chosen.ts";
import { scenario, scenarioText } from "../../state/store.ts";
import { TypeThisIn } from "./type-this-in.tsx";
import "./field.css";

/** What to take along: three numbers, two frequencies, one stop rule, readable on a phone in sunlight; the rest below. */
export function FieldPlace() {
	const about = () => ({ text: scenarioText.value, point: chosenPoint.value, set: chosenSet.value });
	const report = useAnswer("report", () => ({ ...about(), set: chosenSet.value || null }));
	const axes = useAnswers("felt", () =>
		chosenSet.value === "" ? [] : AXES.map((axis) => ({ ...about(), axis })),
	);
	const felt = useComputed(() => {
		const [roll, pitch, yaw] = axes.value.map((each) => (each.value?.feasible ? each.value.felt : null));
		return roll && pitch && yaw ? { roll, pitch, yaw } : null;
	});
	const set = scenario.value.gainSets.find((each) => each.name === chosenSet.value);
	const value = report.value.value?.report;
	if (report.value.error) return <p class="stop">{report.value.error}</p>;
	if (!set) return <p class="quiet">No gain set to take along yet.</p>;
	if (!value || !felt.value) return <p class="quiet">Working out what to take along.</p>;
	const rules = stopRules({
		felt: felt.value,
		hover: value.hover,
		fullTiltRad: scenario.value.craft.sticks.fullTiltRad,
	});
	const { roll, pitch } = felt.value;
	const shake = [roll, pitch]
		.map((each) => each.fastShake)
		.filter((each) => each !== null)
		.sort((a, b) => a.factor - b.factor)[0];
	const wallow = [roll, pitch]
		.map((each) => each.slowWallow)
		.filter((each) => each !== null)
		.sort((a, b) => a.factor - b.factor)[0];
	const fresh = report.value.fresh && axes.value.every((each) => each.fresh);
	return (
		<div class={fresh ? "field-place" : "field-place stale"} aria-busy={!fresh}>
			<section class="sheet glance" aria-labelledby="glance-title">
				<h2 id="glance-title">At a glance, set {set.name}</h2>
				<dl class="large">
					<Large
						name="hover stick"
						number={value.hover ? `${(100 * value.hover.stick).toFixed(0)} %` : "none"}
					/>
					<Large
						name="thrust to weight"
						number={value.hover ? value.hover.thrustToWeight.toFixed(2) : "none"}
					/>
					<Large
						name="hovers for"
						number={value.hover?.enduranceMin ? `${value.hover.enduranceMin.toFixed(0)} min` : "not known"}
					/>
					<Large name="too much kp shakes at" number={shake ? `${shake.hz.toFixed(1)} Hz` : "never"} />
					<Large
						name="too much ki or k_angle sways at"
						number={wallow ? `${wallow.hz.toFixed(2)} Hz` : "never"}
					/>
				</dl>
				<p class="first-rule">
					<b>Stop when:</b> {rules[0]?.sentence}
				</p>
			</section>
			<TypeThisIn set={set} />
			<section class="sheet" aria-labelledby="stop-title">
				<h2 id="stop-title">Stop rules</h2>
				<ol>
					{rules.map((each) => (
						<li key={each.rule}>
							{each.sentence} <span class="quiet small">{each.reason}</span>
						</li>
					))}
				</ol>
			</section>
			<section class="sheet" aria-labelledby="felt-title">
				<h2 id="felt-title">What each gain feels like when there is too much of it</h2>
				<ul>
					{AXES.map((axis) => (
						<li key={axis}>
							<b>{axis}</b>: {felt.value?.[axis].sentence}
						</li>
					))}
				</ul>
			</section>
			<section class="sheet" aria-labelledby="cautions-title">
				<h2 id="cautions-title">Before anything turns</h2>
				<ul>
					{CAUTIONS.map((each) => (
						<li key={each}>{each}</li>
					))}
				</ul>
			</section>
		</div>
	);
}

function Large({ name, number }: { readonly name: string; readonly number: string }) {
	return (
		<div>
			<dt>{name}</dt>
			<dd>{number}</dd>
		</div>
	);
}
