import type { AxisName } from "../../../control/spec.ts";
import { scheduleHere } from "../../../report/schedule-words.ts";
import { dropSchedule } from "../../commands/drop-schedule.ts";
import { chosenPointNow, chosenSet } from "../../state/chosen.ts";
import { asTyped } from "../../state/gain-entry.ts";
import { run, scenario } from "../../state/store.ts";
import { GainField } from "../../widgets/gain-field.tsx";
import { type LoopLayout, tallLayout, wideLayout } from "./loop-layout.ts";
import { LoopNumbers } from "./loop-numbers.tsx";
import "./loop-drawing.css";

/** The control loop of one axis, its gains as numbers on the wires. */
export function LoopDrawing({ axis }: { readonly axis: AxisName }) {
	const set = scenario.value.gainSets.find((each) => each.name === chosenSet.value);
	if (!set) return <p class="quiet">No gain set to draw yet.</p>;
	const wide = wideLayout(set, axis);
	return (
		<div class="loop">
			<label class="small units">
				<input
					type="checkbox"
					checked={asTyped.value}
					onChange={(event) => {
						asTyped.value = event.currentTarget.checked;
					}}
				/>{" "}
				in the units of your code
			</label>
			<Drawing className="wide" layout={wide} set={set.name} axis={axis} />
			<Drawing className="tall" layout={tallLayout(set, axis)} set={set.name} axis={axis} />
			{set.schedule ? (
				<p class="row">
					{scheduleHere(scenario.value.craft, set, chosenPointNow.value, axis)}{" "}
					<button type="button" onClick={() => run(dropSchedule(set.name))}>
						Let them stay as they are
					</button>
				</p>
			) : null}
			<LoopNumbers id="loop-numbers" set={set} axis={axis} gains={wide.gains} />
		</div>
	);
}

function Drawing({
	className,
	layout,
	set,
	axis,
}: {
	readonly className: string;
	readonly layout: LoopLayout;
	readonly set: string;
	readonly axis: AxisName;
}) {
	const { width, height } = layout;
	return (
		<div
			class={`wiring ${className}`}
			style={{ aspectRatio: `${width} / ${height}` }}
			aria-details="loop-numbers"
		>
			<svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
				<defs>
					<marker
						id={`tip-${className}`}
						viewBox="0 0 8 8"
						refX="7"
						refY="4"
						markerWidth="8"
						markerHeight="8"
						orient="auto"
					>
						<path d="M0 0.8L7.4 4L0 7.2Z" fill="currentColor" />
					</marker>
				</defs>
				{layout.wires.map((wire) => (
					<path
						key={wire.join(" ")}
						d={`M${wire.map((point) => point.join(" ")).join("L")}`}
						class="wire"
						marker-end={`url(#tip-${className})`}
					/>
				))}
				{layout.sums.map(({ at, minus }) => (
					<g key={at.join()}>
						<circle class="sum" cx={at[0]} cy={at[1]} r="10" />
						<text class="sign" x={minus[0]} y={minus[1]}>
							{"\u2212"}
						</text>
					</g>
				))}
				{layout.boxes.map(({ at, size, text }) => (
					<g key={text}>
						<rect
							class="box"
							x={at[0] - size[0] / 2}
							y={at[1] - size[1] / 2}
							width={size[0]}
							height={size[1]}
							rx="5"
						/>
						<text x={at[0]} y={at[1] + 4} text-anchor="middle">
							{text}
						</text>
					</g>
				))}
				{layout.texts.map(({ at, text, anchor }) => (
					<text key={text + at.join()} class="said" x={at[0]} y={at[1]} text-anchor={anchor}>
						{text}
					</text>
				))}
			</svg>
			{layout.gains.map(({ at, gain, label }) => (
				<div
					key={gain}
					class="on-wire"
					style={{ left: `${(100 * at[0]) / width}%`, top: `${(100 * at[1]) / height}%` }}
				>
					<GainField set={set} axis={axis} gain={gain} label={label} />
				</div>
			))}
		</div>
	);
}
