import { useEffect, useRef, useState } from "preact/hooks";
import type { FlightResult } from "../../flight/result.ts";
import { type DrawnFlight, stepPicture } from "../../pictures/flight-pictures.ts";
import { namedSet } from "../../pictures/letters.ts";
import type { Picture, Series } from "../../pictures/picture.ts";
import { type CountedFlight, flightNumbers } from "../../report/flight-numbers.ts";
import { gainSetDocument, withGainSet } from "../../scenario/gain-set-document.ts";
import { useFollowing } from "../engine/following.ts";
import { chosenDrill, chosenPoint, chosenSet, shownSets } from "../state/chosen.ts";
import { ghost } from "../state/ghost.ts";
import { pointerHeld } from "../state/held.ts";
import { moving } from "../state/moving.ts";
import { scenario, scenarioText, state } from "../state/store.ts";
import { CornerEnvelope } from "./corner-envelope.tsx";
import { LiveCurves } from "./live-curves.tsx";

/** A full drill that takes longer to fly does not follow a drag. */
const SLOW_MS = 80;
const QUICK_SEC = 3;
const HEIGHT = 440;

/** The drill flown with the set worked on and one more: asked and done, one axis, following every drag. */
export function FlownStep() {
	const slow = useRef(false);
	const [inCorners, setInCorners] = useState(false);
	const about = (set: string, text = scenarioText.value) =>
		set === "" || chosenDrill.value === ""
			? null
			: {
					text,
					point: chosenPoint.value,
					set,
					drill: chosenDrill.value,
					...(moving.value && slow.current ? { quickSec: QUICK_SEC } : {}),
				};
	const first = useFollowing("step", () => about(chosenSet.value)).value;
	const second = useFollowing("step", () => about(shownSets.value[1] ?? "")).value;
	const looked = useFollowing("step", () => {
		const found = ghost.value;
		if (!found || found.axis !== state.value.view.axis) return null;
		const set = scenario.value.gainSets.find((each) => each.name === found.set);
		if (!set) return null;
		const changed = { ...set, [found.axis]: { ...set[found.axis], ...found.gains } };
		const document = withGainSet(scenario.value.document, gainSetDocument(changed, ""));
		return about(found.set, JSON.stringify(document));
	}).value;
	useEffect(() => {
		// Its answer stands among the curves, not in the corners.
		if (ghost.value) setInCorners(false);
	}, [ghost.value]);
	if (first.job && !first.job.quickSec && first.tookMs > 0) slow.current = first.tookMs > SLOW_MS;
	const before = useBefore(first.value?.flight ?? null);
	const { gainSets, craft } = scenario.value;
	const { axis } = state.value.view;
	const drawn: (DrawnFlight & { readonly json: CountedFlight["json"] | null })[] = [first, second].flatMap(
		({ value, job }) => {
			const set = job && gainSets.find((each) => each.name === job.set);
			return value && set ? [{ ...namedSet(set, gainSets), ...value }] : [];
		},
	);
	const counted = drawn.flatMap(({ letter, json }): CountedFlight[] => (json ? [{ letter, json }] : []));
	const quick = first.job?.quickSec !== undefined;
	const faint = [
		...(before ? [{ words: "before this drag", flight: before }] : []),
		...(looked.value && ghost.value
			? [{ words: `looked at: ${ghost.value.words}`, flight: looked.value.flight }]
			: []),
	];
	const head = {
		title: `Drill '${chosenDrill.value}'`,
		note: `operating point ${chosenPoint.value}${
			quick ? `; while you drag: flown without noise, the first ${QUICK_SEC} s` : ""
		}`,
		invented: craft.invented,
	};
	// A picture of its own only where something in it has changed.
	const last = useRef<{ readonly parts: readonly unknown[]; readonly picture: Picture } | null>(null);
	const parts = [
		...drawn.flatMap(({ letter, name, flight }) => [letter, name, flight]),
		...faint.flatMap(({ words, flight }) => [words, flight]),
		axis,
		...Object.values(head),
	];
	const same =
		last.current?.parts.length === parts.length && parts.every((each, i) => each === last.current?.parts[i]);
	if (!same && drawn.length > 0)
		last.current = {
			parts,
			picture: withFaint(
				{ ...stepPicture(head, axis, drawn), numbers: flightNumbers(counted, axis) },
				faint.map(({ words, flight }) => ({
					words,
					picture: stepPicture({ title: "", invented: false }, axis, [{ ...drawn[0]!, name: words, flight }]),
				})),
			),
		};
	return (
		<section class="sheet" aria-labelledby="step-title">
			<header>
				<h2 id="step-title">Asked and done</h2>
				<button type="button" aria-pressed={inCorners} onClick={() => setInCorners(!inCorners)}>
					A step in every corner
				</button>
			</header>
			{first.error ? <p class="stop">{first.error}</p> : null}
			{inCorners ? (
				<CornerEnvelope axis={axis} heightPx={HEIGHT} />
			) : last.current && drawn.length > 0 ? (
				<LiveCurves
					stale={!first.fresh && !pointerHeld.value && first.tookMs > 200}
					heightPx={HEIGHT}
					picture={last.current.picture}
				/>
			) : (
				<p class="quiet">{chosenSet.value ? "Flying." : "No gain set yet."}</p>
			)}
		</section>
	);
}

/** The flight that stood before the pointer went down, while it is held and another has come. */
function useBefore(flight: FlightResult | null): FlightResult | null {
	const held = pointerHeld.value;
	const [kept, setKept] = useState<FlightResult | null>(null);
	const last = useRef(flight);
	useEffect(() => {
		if (held) setKept(last.current);
		else setKept(null);
	}, [held]);
	useEffect(() => {
		last.current = flight;
	}, [flight]);
	return held && kept && kept !== flight ? kept : null;
}

/** Other flights' answers behind the curves, faint. */
function withFaint(
	picture: Picture,
	others: readonly { readonly words: string; readonly picture: Picture }[],
): Picture {
	const panel = picture.panels[0]!;
	const series: Series[] = others.map(({ words, picture: other }) => {
		const found = other.panels[0]!.series.find((each) => each.name === words)!;
		return { ...found, look: { ...found.look, weight: "faint", dash: "solid" } };
	});
	return {
		...picture,
		panels: [{ ...panel, series: [...series, ...panel.series] }],
		legend: [...picture.legend, ...series.map((each) => ({ text: each.name, look: each.look }))],
	};
}
