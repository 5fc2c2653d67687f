import { useMemo, useState } from "preact/hooks";
import type { FrequencyMargins } from "../../../analysis/axis-margins.ts";
import type { ScalarLoopResult } from "../../../analysis/scalar-loop-types.ts";
import type { AxisName } from "../../../control/spec.ts";
import { namedSet } from "../../../pictures/letters.ts";
import { bodePicture, nyquistPicture } from "../../../report/loop-pictures.ts";
import { limitsOf } from "../../../tuning/characters.ts";
import { lookAt } from "../../commands/look-at.ts";
import { useFollowing } from "../../engine/following.ts";
import { chosenPoint, shownSets } from "../../state/chosen.ts";
import { dragged, moving } from "../../state/moving.ts";
import { run, scenario, scenarioText, state } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";
import { PlotlyView } from "../../widgets/plotly-view.tsx";

const OPENED = [
	{ opened: "rate", key: "rateLoop", title: "rate loop" },
	{ opened: "angle", key: "angleLoop", title: "angle loop" },
	{ opened: "whole", key: "wholeAxis", title: "whole axis" },
] as const;
type Opened = (typeof OPENED)[number];

/** Under 'show the proof': Bode and Nyquist with the margins drawn on, for those who want to see why. */
export function LoopProof({ axis }: { readonly axis: AxisName }) {
	const { proofOpen } = state.value.view;
	return (
		<section class="sheet" aria-labelledby="proof-title">
			<header>
				<h2 id="proof-title">Why these margins</h2>
				<button
					type="button"
					aria-expanded={proofOpen}
					onClick={() => run(lookAt({ proofOpen: !proofOpen }))}
				>
					{proofOpen ? "Put the proof away" : "Show the proof"}
				</button>
			</header>
			{proofOpen ? (
				<Pictures axis={axis} />
			) : (
				<p class="quiet">Bode and Nyquist of the opened loop, margins drawn on.</p>
			)}
		</section>
	);
}

function Pictures({ axis }: { readonly axis: AxisName }) {
	const [chosen, setChosen] = useState<Opened["opened"]>("rate");
	const opening = OPENED.find((each) => each.opened === (axis === "yaw" ? "rate" : chosen))!;
	const about = (k: number) => {
		const set = shownSets.value[k];
		return set === undefined ? null : { text: scenarioText.value, point: chosenPoint.value, set, axis };
	};
	const loop = (k: number) => {
		const asked = about(k);
		return asked && { ...asked, opened: opening.opened };
	};
	const margin = (k: number) => {
		const asked = about(k);
		return asked && { ...asked, ...(moving.value ? { moving: true as const } : {}) };
	};
	const loops = [useFollowing("loop", () => loop(0)).value, useFollowing("loop", () => loop(1)).value];
	const margins = [useFollowing("axis", () => margin(0)).value, useFollowing("axis", () => margin(1)).value];
	const { gainSets, craft } = scenario.value;
	const drawn = shownSets.value.slice(0, 2).flatMap((name, i) => {
		const set = gainSets.find((each) => each.name === name);
		const samples = loops[i]?.value;
		const found = margins[i]?.value;
		const result = found?.feasible ? resultOf(found.margins, opening.key) : null;
		return set && samples && result ? [{ ...namedSet(set, gainSets), samples, result }] : [];
	});
	const stale = [...loops, ...margins].some((each) => !each.fresh);
	const title = `${axis}: ${opening.title}`;
	const note = `operating point ${chosenPoint.value}`;
	const { invented } = craft;
	// Pictures of their own only where something in them has changed.
	const pictures = useMemo(() => {
		if (drawn.length === 0) return null;
		const head = { title, note, invented };
		return {
			bode: bodePicture(head, drawn),
			nyquist: nyquistPicture(head, drawn, limitsOf("lively").ms),
		};
	}, [
		title,
		note,
		invented,
		drawn.length,
		...[0, 1].flatMap((i) => [drawn[i]?.letter, drawn[i]?.name, drawn[i]?.samples, drawn[i]?.result]),
	]);
	// A drag is not overtaken by what it asked before.
	const faded = stale && !moving.value;
	return (
		<>
			<fieldset class="axes">
				<legend class="visually-hidden">Where the loop is opened</legend>
				{OPENED.map((each) => (
					<button
						key={each.opened}
						type="button"
						disabled={axis === "yaw" && each.opened !== "rate"}
						aria-pressed={each === opening}
						onClick={() => setChosen(each.opened)}
					>
						{each.title}
					</button>
				))}
			</fieldset>
			{pictures === null ? (
				<p class="quiet">{stale ? "Opening the loop." : "This structure has no such loop."}</p>
			) : (
				<>
					<div class="pair">
						{[pictures.bode, pictures.nyquist].map((picture, i) => (
							<div key={i === 0 ? "bode" : "nyquist"}>
								<PlotlyView stale={faded} heightPx={460} picture={picture} light={dragged.value} />
							</div>
						))}
					</div>
					<MarginTable drawn={drawn} />
				</>
			)}
		</>
	);
}

const resultOf = (margins: FrequencyMargins, key: Opened["key"]): ScalarLoopResult | null => margins[key];

function MarginTable({
	drawn,
}: {
	readonly drawn: readonly { readonly letter: string; readonly result: ScalarLoopResult }[];
}) {
	const rows = [
		{ what: "phase margin", unit: "deg", digits: 1, factor: 1, key: "phaseMarginDeg" },
		{ what: "gain may rise by", unit: "dB", digits: 1, factor: 1, key: "gainMarginUpDb" },
		{ what: "gain may fall by", unit: "dB", digits: 1, factor: 1, key: "gainMarginDownDb" },
		{ what: "delay margin", unit: "ms", digits: 2, factor: 1000, key: "delayMarginSec" },
		{ what: "crossover", unit: "Hz", digits: 2, factor: 1 / (2 * Math.PI), key: "crossoverRadPerSec" },
		{ what: "largest sensitivity, Ms", unit: "", digits: 2, factor: 1, key: "ms" },
	] as const;
	return (
		<DataTable
			caption="Margins of the opened loop"
			columns={[
				{ title: "margin" },
				{ title: "unit" },
				...drawn.map(({ letter }) => ({ title: letter, number: true })),
			]}
			rows={rows.map(({ what, unit, digits, factor, key }) => [
				what,
				unit,
				...drawn.map(({ result }) => {
					const margin = result[key];
					return margin.value === null
						? margin.why
						: { text: (factor * margin.value).toFixed(digits), exact: factor * margin.value };
				}),
			])}
		/>
	);
}
