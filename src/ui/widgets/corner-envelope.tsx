import { signal, useComputed, useSignalEffect } from "@preact/signals";
import { useState } from "preact/hooks";
import type { CornerFlights } from "../../../workers/page-jobs.ts";
import { JobCancelled } from "../../../workers/pool.ts";
import type { AxisName } from "../../control/spec.ts";
import { cornerBand } from "../../pictures/corner-fan.ts";
import { namedSet } from "../../pictures/letters.ts";
import { cornerFanOf } from "../../report/corner-steps.ts";
import { longWork } from "../engine/long-work.ts";
import { chosenPoint, chosenSet } from "../state/chosen.ts";
import { pointerHeld } from "../state/held.ts";
import { scenario, scenarioText, state } from "../state/store.ts";
import { PictureView } from "./picture-view.tsx";

interface Flown {
	readonly flights: CornerFlights | null;
	readonly error: string;
}

/** A small step flown in every worst-case corner, as one band with the worst corner named. */
export function CornerEnvelope({ axis, heightPx }: { readonly axis: AxisName; readonly heightPx: number }) {
	const [found] = useState(() => signal<Flown>({ flights: null, error: "" }));
	const job = useComputed(() =>
		// Anew when a drag ends, not all along it.
		pointerHeld.value
			? null
			: {
					text: scenarioText.value,
					point: chosenPoint.value,
					set: chosenSet.value,
					axis: state.value.view.axis,
				},
	);
	useSignalEffect(() => {
		const asked = job.value;
		if (!asked || asked.set === "") return undefined;
		const stop = new AbortController();
		const put = (flights: CornerFlights): void => {
			if (!stop.signal.aborted) found.value = { flights, error: "" };
		};
		longWork()
			.run("corners", asked, { signal: stop.signal, onProgress: put })
			.then(put, (error: unknown) => {
				if (!(error instanceof JobCancelled))
					found.value = { flights: null, error: error instanceof Error ? error.message : String(error) };
			});
		return () => stop.abort();
	});
	const { flights, error } = found.value;
	const { gainSets, craft } = scenario.value;
	const set = gainSets.find((each) => each.name === chosenSet.value);
	if (error) return <p class="stop">{error}</p>;
	if (!flights || !set) return <p class="quiet">Flying the corners.</p>;
	const done = flights.flown.length;
	const fan = cornerFanOf(
		{
			title: `${axis}: a step in ${done === flights.total ? `all ${done}` : `${done} of ${flights.total}`} corners`,
			note: "battery, load, inertia, thrust, motor lag and throttle at their bounds; still air, without noise",
			invented: craft.invented,
		},
		namedSet(set, gainSets),
		axis,
		flights.nominal,
		flights.flown,
	);
	const worst = fan.worst === null ? null : fan.corners[fan.worst];
	return (
		<>
			<PictureView picture={cornerBand(fan)} heightPx={heightPx} stale={done < flights.total} />
			<p class="small" role="status">
				{done} of {flights.total} corners flown
				{worst
					? `; furthest from nominal: ${worst.name}, peak ${Math.max(...Array.from(worst.values)).toFixed(1)} ${fan.unit}`
					: ""}
				.
			</p>
		</>
	);
}
