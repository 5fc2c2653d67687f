import { chosenDrill, chosenPoint } from "../../../state/chosen.ts";
import type { Fill } from "./use-plane.ts";

/** How far a plane is worked out, what is shown meanwhile, and the way to stop it. */
export function PlaneProgress({
	fill,
	kind,
	corners: count,
	cancel,
	resume,
}: {
	readonly fill: Fill;
	readonly kind: "margins" | "flown";
	readonly corners: number;
	readonly cancel: () => void;
	readonly resume: () => void;
}) {
	const total = fill.finest ** 2;
	const running = fill.state === "running" || fill.state === "waiting";
	const what =
		kind === "margins"
			? `each the worst of ${count} corners of this craft`
			: `each a flight of drill '${chosenDrill.value}' at point '${chosenPoint.value}'`;
	const standing = kind === "margins" && fill.shows === "stands" && fill.known > 0;
	return (
		<div class="row plane-progress">
			<progress
				max={total || 1}
				value={fill.state === "waiting" ? 0 : fill.done}
				aria-label="Cells of the plane worked out"
			/>
			<p class="small" role="status">
				{fill.state === "complete"
					? `${total} cells, ${what}, in ${(fill.tookMs / 1000).toFixed(1)} s.`
					: fill.state === "failed"
						? `The plane could not be worked out: ${fill.why}`
						: fill.state === "waiting"
							? `Begun anew: cells are worked out, ${what}.`
							: `${fill.state === "cancelled" ? "Cancelled: " : ""}${fill.done} of ${total} cells, ${what}.`}
				{standing && fill.state !== "complete" && fill.state !== "failed"
					? " Shown meanwhile: the craft as it stands."
					: ""}
				{fill.state === "cancelled" && fill.known > 0 && fill.known < total
					? " What lies between them is filled in from their neighbours."
					: ""}
			</p>
			{running ? (
				<button type="button" onClick={cancel}>
					Cancel the plane
				</button>
			) : fill.state === "cancelled" ? (
				<button type="button" onClick={resume}>
					Go on with it
				</button>
			) : null}
		</div>
	);
}
