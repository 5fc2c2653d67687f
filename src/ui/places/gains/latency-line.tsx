import { useRef } from "preact/hooks";
import { halvingBuysDeg } from "../../../analysis/halving.ts";
import type { AxisName } from "../../../control/spec.ts";
import { setValue } from "../../commands/set-value.ts";
import { useFollowing } from "../../engine/following.ts";
import { chosenPoint, chosenSet } from "../../state/chosen.ts";
import { moving } from "../../state/moving.ts";
import { run, scenario, scenarioText } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";
import { Exact } from "../../widgets/exact.tsx";
import { type Segment, segmentsOf } from "./latency-segments.ts";
import "./latency-line.css";

/** The to-scale strip from tilt to thrust: time, degrees and what buys more are one object. */
export function LatencyLine({ axis }: { readonly axis: AxisName }) {
	const answer = useFollowing("axis", () =>
		chosenSet.value === ""
			? null
			: {
					text: scenarioText.value,
					point: chosenPoint.value,
					set: chosenSet.value,
					axis,
					...(moving.value ? { moving: true } : {}),
				},
	);
	const { value, fresh, error } = answer.value;
	if (error) return <p class="stop">{error}</p>;
	if (!value)
		return (
			<p class="quiet">{chosenSet.value ? "Measuring the way from tilt to thrust." : "No gain set yet."}</p>
		);
	if (!value.feasible) return <p class="stop">{value.reason}</p>;
	const { margins } = value;
	const omega = margins.ledgerRadPerSec;
	if (omega === null)
		return <p class="quiet">This loop has no crossover: its gains are so low that no delay could matter.</p>;
	const segments = segmentsOf(margins.phaseLedger, value, slowingCounts());
	const motor = segments.filter((each) => each.short === "motor");
	const delays = segments.filter((each) => each.short !== "motor");
	const delaySec = delays.reduce((sum, each) => sum + each.sec, 0);
	const before: Segment = {
		name: "everything before the motors",
		short: "all before",
		sec: delaySec,
		kind: "delay",
		degrees: delays.reduce((sum, each) => sum + (each.degrees ?? 0), 0),
		edit: null,
	};
	const share = delaySec / Math.max(1e-9, delaySec + motor.reduce((sum, each) => sum + each.sec, 0));
	const rest = margins.phaseLedger.filter((entry) => !segments.some((each) => each.name === entry.element));
	const phaseDeg = margins.rateLoop.phaseMarginDeg.value;
	const delaySecMore = margins.rateLoop.delayMarginSec.value;
	const bearsMs = delaySecMore === null ? null : 1e3 * delaySecMore;
	return (
		<div class={fresh || moving.value ? "latency" : "latency stale"} aria-busy={!fresh}>
			<p>
				Crossover at{" "}
				<b>
					<Exact value={omega / (2 * Math.PI)}>{(omega / (2 * Math.PI)).toFixed(2)} Hz</Exact>
				</b>
				, phase margin{" "}
				<b>
					<Exact value={phaseDeg}>{phaseDeg === null ? "none" : `${phaseDeg.toFixed(0)} deg`}</Exact>
				</b>
				. The loop bears{" "}
				<b>
					<Exact value={bearsMs}>{bearsMs === null ? "any" : `${bearsMs.toFixed(1)} ms`}</Exact>
				</b>{" "}
				more delay before it swings by itself. Drag an edge, or step it with the arrow keys.
			</p>
			<div aria-details="latency-numbers">
				<Strip title="From tilt to thrust, to scale" segments={[before, ...motor]} />
				<div class="lens" style={{ clipPath: `polygon(0 0, ${100 * share}% 0, 100% 100%, 0 100%)` }} />
				<Strip title="Before the motors, enlarged" segments={delays} />
			</div>
			<DataTable
				id="latency-numbers"
				caption="What each element costs at crossover, and what halving it would give back"
				columns={[
					{ title: "element" },
					{ title: "time", unit: "ms", number: true },
					{ title: "phase", unit: "deg", number: true },
					{ title: "halved gives", unit: "deg", number: true },
				]}
				rows={[
					...segments.map((each) => [
						each.name,
						{ text: (1e3 * each.sec).toFixed(2), exact: 1e3 * each.sec },
						{ text: (each.degrees ?? 0).toFixed(1), exact: each.degrees },
						halvingBuysDeg(each.kind, each.sec, omega).toFixed(1),
					]),
					...rest.map((each) => [
						each.element,
						"",
						{ text: each.degrees.toFixed(1), exact: each.degrees },
						"",
					]),
				]}
			/>
		</div>
	);
}

/** Of a motor's two lags, whether the operating point takes the one of slowing down. */
function slowingCounts(): boolean {
	const { craft, operatingPoints } = scenario.value;
	const which = operatingPoints.find(({ name }) => name === chosenPoint.value)?.point.motorLag;
	return which === "down" || (which !== "up" && craft.propulsion.tauDownSec >= craft.propulsion.tauUpSec);
}

function Strip({ title, segments }: { readonly title: string; readonly segments: readonly Segment[] }) {
	const total = segments.reduce((sum, each) => sum + each.sec, 0);
	return (
		<figure class="strip">
			<figcaption class="small quiet">
				{title}: {(1e3 * total).toFixed(1)} ms
			</figcaption>
			<div class="segments">
				{segments.map((each) => (
					<SegmentBox key={each.name} segment={each} totalSec={total} />
				))}
			</div>
		</figure>
	);
}

function SegmentBox({ segment, totalSec }: { readonly segment: Segment; readonly totalSec: number }) {
	const drag = useRef<{ readonly x: number; readonly sec: number; readonly secPerPx: number } | null>(null);
	const { edit, sec } = segment;
	const text = `${(1e3 * sec).toPrecision(3)} ms`;
	const change = (to: number, joins: string): void => {
		if (edit && Number.isFinite(to))
			run(setValue(edit.path, edit.toText(Math.max(0, to)), edit.label, joins));
	};
	return (
		<div class={`segment ${segment.kind}`} style={{ flexGrow: 1e6 * sec }} title={`${segment.name}: ${text}`}>
			<span class="name">{segment.short}</span>
			<span class="ms">{text}</span>
			<span class="deg">
				{segment.degrees === null ? "" : `${segment.degrees.toFixed(1).replace("-", "\u2212")}\u00b0`}
			</span>
			{edit ? (
				<span
					class="edge"
					role="slider"
					tabIndex={0}
					aria-label={edit.label}
					aria-valuenow={1e3 * sec}
					aria-valuetext={text}
					onKeyDown={(event) => {
						const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
						if (!steps) return;
						event.preventDefault();
						change(sec * 1.05 ** (steps * (event.shiftKey ? 5 : 1)), `step ${edit.path}`);
					}}
					onPointerDown={(event) => {
						const strip = event.currentTarget.closest(".segments");
						if (!strip) return;
						drag.current = { x: event.clientX, sec, secPerPx: totalSec / strip.clientWidth };
						event.currentTarget.setPointerCapture(event.pointerId);
					}}
					onPointerMove={(event) => {
						const from = drag.current;
						if (from)
							change(from.sec + (event.clientX - from.x) * from.secPerPx, `drag ${edit.path} ${from.sec}`);
					}}
					onPointerUp={() => {
						drag.current = null;
					}}
					onPointerCancel={() => {
						drag.current = null;
					}}
				/>
			) : null}
		</div>
	);
}
