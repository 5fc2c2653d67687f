import { useComputed } from "@preact/signals";
import { useCallback, useMemo, useState } from "preact/hooks";
import { corners } from "../../../../analysis/corners.ts";
import type { AxisName, GainSet } from "../../../../control/spec.ts";
import { gainPlane } from "../../../../pictures/gain-plane.ts";
import { namedSet } from "../../../../pictures/letters.ts";
import { gainSetDocument } from "../../../../scenario/gain-set-document.ts";
import { setGains } from "../../../commands/set-gains.ts";
import { gainUnit } from "../../../entry/gain-units.ts";
import { chosenDrill, chosenPoint, chosenSet } from "../../../state/chosen.ts";
import { asTyped } from "../../../state/gain-entry.ts";
import { ghost } from "../../../state/ghost.ts";
import { run, scenario } from "../../../state/store.ts";
import { PlotlyView } from "../../../widgets/plotly-view.tsx";
import type { PlaneQuestion } from "./fill.ts";
import { FLOWN_PASSES, gridOf, MARGIN_PASSES } from "./passes.ts";
import { PlaneDots, type PlotBox, plotBox } from "./plane-dots.tsx";
import { PlaneProgress } from "./plane-progress.tsx";
import { PlaneTable } from "./plane-table.tsx";
import {
	centreOf,
	GAIN_WORDS,
	isInside,
	type PlaneGain,
	planeGains,
	type Side,
	SPREADS,
	type Spread,
	sideAbout,
	sideValues,
} from "./ranges.ts";
import { RESULTS, readCell, wordsOf } from "./results.ts";
import { type Fill, usePlane } from "./use-plane.ts";
import "./gain-plane.css";

/** One result over two gains of an axis, with the sets as dots that can be moved. */
export function GainPlane({ axis }: { readonly axis: AxisName }) {
	const set = scenario.value.gainSets.find((each) => each.name === chosenSet.value);
	return (
		<section class="sheet" aria-labelledby="plane-title">
			<header>
				<h2 id="plane-title">The gain plane</h2>
			</header>
			{set ? <Plane axis={axis} /> : <p class="quiet">No gain set yet.</p>}
		</section>
	);
}

function Plane({ axis }: { readonly axis: AxisName }) {
	const [across, setAcross] = useState<PlaneGain>("kp");
	const [up, setUp] = useState<PlaneGain>("ki");
	const [spreadKey, setSpread] = useState<Spread["key"]>("log4");
	const [column, setColumn] = useState(RESULTS[0]!.column);
	const [open, setOpen] = useState(true);
	const result = RESULTS.find((each) => each.column === column)!;
	const spread = SPREADS.find((each) => each.key === spreadKey)!;
	const [laid] = useState<{ key: string; x: Side; y: Side }[]>(() => []);
	const sidesOf = (set: GainSet): { readonly x: Side; readonly y: Side } => {
		const [gx, gy] = gainsOf(set, axis, across, up);
		const key = [set.name, axis, gx, gy, spread.key].join();
		const last = laid[0];
		// A plane stays where it was laid out while its set moves about in it.
		if (last?.key === key && isInside(last.x, set[axis][gx]) && isInside(last.y, set[axis][gy])) return last;
		const fresh = {
			key,
			x: sideAbout(gx, centreOf(set, axis, gx), spread),
			y: sideAbout(gy, centreOf(set, axis, gy), spread),
		};
		laid[0] = fresh;
		return fresh;
	};
	const question = (): PlaneQuestion | null => {
		const { gainSets, craft, document, operatingPoints, drills } = scenario.value;
		const set = gainSets.find((each) => each.name === chosenSet.value);
		const point = operatingPoints.find((each) => each.name === chosenPoint.value)?.point;
		const drill = drills.find((each) => each.name === chosenDrill.value);
		if (!set || !point || !open) return null;
		const { x, y } = sidesOf(set);
		const {
			gainSets: _g,
			drills: _d,
			operatingPoints: _p,
			tuning: _t,
			...rest
		} = document as Record<string, unknown>;
		// The two gains of the plane are not the set's own there: moving its dot asks nothing new.
		const held = { ...set, [axis]: { ...set[axis], [x.gain]: x.high, [y.gain]: y.high } };
		if (result.kind === "flown" && !drill) return null;
		return {
			text: JSON.stringify({ ...rest, gainSets: [gainSetDocument(held, "")] }),
			set: set.name,
			at: 0,
			axis,
			x,
			y,
			stages:
				result.kind === "flown"
					? [{ shows: "flight", measure: { kind: "flown", axis, drill: drill!, point } }]
					: [
							{ shows: "stands", measure: { kind: "margins", axis, points: [point] } },
							{
								shows: "corners",
								measure: {
									kind: "margins",
									axis,
									points: corners(craft, point).map((corner) => corner.point),
								},
							},
						],
			passes: result.kind === "flown" ? FLOWN_PASSES : MARGIN_PASSES,
		};
	};
	const { fill, cancel, resume } = usePlane(question);
	const set = scenario.value.gainSets.find((each) => each.name === chosenSet.value)!;
	const choices = planeGains(set, axis);
	const [gx, gy] = gainsOf(set, axis, across, up);
	const cornerCount = useComputed(() => {
		const point = scenario.value.operatingPoints.find((each) => each.name === chosenPoint.value)?.point;
		return point ? corners(scenario.value.craft, point).length : 0;
	}).value;
	return (
		<>
			<div class="row plane-choices">
				<Choice
					label="Across"
					value={gx}
					options={choices.map((each) => [each, GAIN_WORDS[each]])}
					onChoose={(to) => {
						if (to === gy) setUp(gx);
						setAcross(to);
					}}
				/>
				<Choice
					label="Up"
					value={gy}
					options={choices.map((each) => [each, GAIN_WORDS[each]])}
					onChoose={(to) => {
						if (to === gx) setAcross(gy);
						setUp(to);
					}}
				/>
				<Choice
					label="Range about the set"
					value={spreadKey}
					options={SPREADS.map((each) => [each.key, each.words])}
					onChoose={setSpread}
				/>
				<Choice
					label="Shaded by"
					value={column}
					options={RESULTS.map((each) => [each.column, each.words])}
					onChoose={setColumn}
				/>
				<button type="button" aria-expanded={open} onClick={() => setOpen(!open)}>
					{open ? "Put the plane away" : "Show the plane"}
				</button>
			</div>
			{open ? (
				<>
					<PlaneProgress
						fill={fill.value}
						kind={result.kind}
						corners={cornerCount}
						cancel={cancel}
						resume={resume}
					/>
					<Drawn fill={fill.value} axis={axis} set={set} column={column} />
				</>
			) : null}
		</>
	);
}

/** Two different gains that this set has. */
function gainsOf(
	set: GainSet,
	axis: AxisName,
	across: PlaneGain,
	up: PlaneGain,
): readonly [PlaneGain, PlaneGain] {
	const has = planeGains(set, axis);
	const x = has.includes(across) ? across : "kp";
	const y = has.includes(up) && up !== x ? up : (has.find((each) => each !== x && each !== "kp") ?? "ki");
	return [x, y];
}

function Choice<T extends string>({
	label,
	value,
	options,
	onChoose,
}: {
	readonly label: string;
	readonly value: T;
	readonly options: readonly (readonly [T, string])[];
	readonly onChoose: (to: T) => void;
}) {
	return (
		<label>
			<span class="small quiet">{label}</span>
			<select value={value} onChange={(event) => onChoose(event.currentTarget.value as T)}>
				{options.map(([key, words]) => (
					<option key={key} value={key}>
						{words}
					</option>
				))}
			</select>
		</label>
	);
}

const BLANK = {
	stands: "unstable as it stands",
	corners: "unstable in the worst corner",
	flight: "the flight ended early",
} as const;

function Drawn({
	fill,
	axis,
	set,
	column,
}: {
	readonly fill: Fill;
	readonly axis: AxisName;
	readonly set: GainSet;
	readonly column: string;
}) {
	const [box, setBox] = useState<PlotBox | null>(null);
	const onDrawn = useCallback((element: HTMLElement) => setBox((before) => plotBox(element, before)), []);
	const { question } = fill;
	const { gainSets, craft, firmware } = scenario.value;
	const result = RESULTS.find((each) => each.column === column)!;
	const typed = asTyped.value;
	const unitOf = (gain: PlaneGain) => gainUnit(set, axis, gain, firmware, typed);
	const readable = question && question.stages[0]!.measure.kind === result.kind ? question : null;
	const words = wordsOf(result, fill.shows);
	const units = readable ? ([unitOf(readable.x.gain), unitOf(readable.y.gain)] as const) : null;
	const unitKey = JSON.stringify(units);
	// The grid that is being worked on, as soon as a quarter of it is there.
	const next = readable ? (readable.passes.find((count) => count > fill.complete) ?? fill.finest) : 0;
	const count = !readable ? 0 : fill.known >= 0.4 * next ** 2 || fill.complete === 0 ? next : fill.complete;
	// Cells are filled in place: their version counts.
	const picture = useMemo(() => {
		if (!readable || !units) return null;
		const grid = gridOf(fill.cells, fill.finest, count, readCell(result));
		const side = (which: "x" | "y", factor: number, unit: string) => ({
			label: GAIN_WORDS[readable[which].gain],
			unit,
			scale: readable[which].scale,
			values: sideValues(readable[which], count).map((v) => v * factor),
		});
		return gainPlane({
			title: `${axis}: ${words}`,
			note: `Blank: ${BLANK[fill.shows]}. Laid out about set ${readable.set}; all other gains are those of the set.`,
			invented: craft.invented,
			x: side("x", units[0].factor, units[0].unit),
			y: side("y", units[1].factor, units[1].unit),
			values: grid.values,
			stable: grid.stable,
			label: words,
			unit: result.unit,
			outline: null,
			sets: [],
		});
	}, [fill.cells, fill.version, readable, count, result, words, craft.invented, axis, unitKey]);
	if (!picture || !readable || !units) return <div class="plane-room" />;
	const sets = gainSets.filter(
		(each) =>
			planeGains(each, axis).includes(readable.x.gain) && planeGains(each, axis).includes(readable.y.gain),
	);
	const take = (name: string, x: number, y: number, joins: string): void => {
		run(setGains(name, axis, { [readable.x.gain]: x, [readable.y.gain]: y }, joins));
	};
	const say = (x: number, y: number): string =>
		`${GAIN_WORDS[readable.x.gain]} ${figure(x * units[0].factor)} ${units[0].unit}, ${GAIN_WORDS[readable.y.gain]} ${figure(y * units[1].factor)} ${units[1].unit}`;
	return (
		<>
			<div class="plane">
				<PlotlyView
					picture={picture}
					heightPx={520}
					stale={fill.state === "waiting"}
					contours={fill.state !== "running"}
					onDrawn={onDrawn}
				/>
				{box ? (
					<PlaneDots
						box={box}
						x={readable.x}
						y={readable.y}
						dots={sets.map((each) => ({
							...namedSet(each, gainSets),
							set: each.name,
							x: each[axis][readable.x.gain],
							y: each[axis][readable.y.gain],
						}))}
						say={say}
						move={take}
						look={(x, y) => {
							ghost.value = {
								set: set.name,
								axis,
								gains: { [readable.x.gain]: x, [readable.y.gain]: y },
								words: say(x, y),
							};
						}}
					/>
				) : null}
			</div>
			<GhostLine
				axis={axis}
				set={set.name}
				take={(gains) => {
					const x = gains[readable.x.gain];
					const y = gains[readable.y.gain];
					if (x !== undefined && y !== undefined) take(set.name, x, y, `take ${x} ${y}`);
					ghost.value = null;
				}}
			/>
			<PlaneTable fill={fill} question={readable} result={result} set={set} units={units} />
		</>
	);
}

const figure = (value: number): string => String(Number(value.toPrecision(4)));

function GhostLine({
	axis,
	set,
	take,
}: {
	readonly axis: AxisName;
	readonly set: string;
	readonly take: (gains: Readonly<Partial<Record<string, number>>>) => void;
}) {
	const found = ghost.value;
	const live = found && found.axis === axis && found.set === set ? found : null;
	return (
		<div class="row plane-ghost" aria-live="polite">
			{live ? (
				<>
					<p class="small">
						Looked at, not taken: {live.words}. Its answer stands faintly in the step picture.
					</p>
					<button type="button" onClick={() => take(live.gains)}>
						Take these gains
					</button>
					<button
						type="button"
						class="plain"
						onClick={() => {
							ghost.value = null;
						}}
					>
						Let them go
					</button>
				</>
			) : (
				<p class="small quiet">
					Drag a letter, or focus it and use the arrow keys. Click anywhere, or press Enter on the crosshair,
					to see the answer of those gains without taking them.
				</p>
			)}
		</div>
	);
}
