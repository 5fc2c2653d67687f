import { lookAt } from "../../commands/look-at.ts";
import type { AxisChoice } from "../../state/model.ts";
import { run, state } from "../../state/store.ts";
import { FlownStep } from "../../widgets/flown-step.tsx";
import { GainPlane } from "./gain-plane/gain-plane.tsx";
import { LatencyLine } from "./latency-line.tsx";
import { LoopDrawing } from "./loop-drawing.tsx";
import { LoopProof } from "./loop-proof.tsx";
import { StartingGains } from "./starting-gains.tsx";

const AXES: readonly AxisChoice[] = ["roll", "pitch", "yaw"];

export function GainsPlace() {
	const { axis } = state.value.view;
	return (
		<>
			<section class="sheet" aria-labelledby="latency-title">
				<header>
					<h2 id="latency-title">The latency line</h2>
					<fieldset class="axes">
						<legend class="visually-hidden">Axis</legend>
						{AXES.map((each) => (
							<button
								key={each}
								type="button"
								aria-pressed={each === axis}
								onClick={() => run(lookAt({ axis: each }))}
							>
								{each}
							</button>
						))}
					</fieldset>
				</header>
				<LatencyLine axis={axis} />
			</section>
			<section class="sheet" aria-labelledby="loop-title">
				<header>
					<h2 id="loop-title">The loop, and its gains on the wires</h2>
				</header>
				<LoopDrawing axis={axis} />
			</section>
			<StartingGains />
			<div class="pair">
				<FlownStep />
				<GainPlane axis={axis} />
			</div>
			<LoopProof axis={axis} />
		</>
	);
}
