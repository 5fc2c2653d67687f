import type { FixedGainSet } from "../control/spec.ts";
import { eigenvalues } from "../math/eigenvalues.ts";
import { liftedLoop, UNCHANGED } from "./lifted.ts";
import type { LinearCraft } from "./linearise.ts";
import type { SlowMode } from "./report-types.ts";
import type { TimingChain } from "./timing-chain.ts";

/** Slower than this, 1/s, a mode is one that a pilot flies and not one that the rate loop is judged by. */
const SLOW_PER_SEC = 3;

/**
 * Rate-only use: no one holds tilt, so that speed and attitude swing or drift together. The least stable slow mode of roll and
 * pitch with their rate loops closed.
 */
export function slowMode(linear: LinearCraft, chain: TimingChain, set: FixedGainSet): SlowMode | null {
	const found = ([0, 1] as const).flatMap((axis) => {
		const loop = liftedLoop(linear, chain, set, [axis], [], false);
		const { map, size } = loop.map([{ ...UNCHANGED, angle: 0 }]);
		const { re, im } = eigenvalues(map, size);
		return Array.from(re, (r, i) => ({
			axis: axis === 0 ? ("roll" as const) : ("pitch" as const),
			growthPerSec: Math.log(Math.max(Math.hypot(r, im[i]!), 1e-300)) / loop.hyperperiodSec,
			radPerSec: Math.abs(Math.atan2(im[i]!, r)) / loop.hyperperiodSec,
			fixed: Math.hypot(r - 1, im[i]!) < 1e-9,
		})).filter((m) => !m.fixed && Math.hypot(m.growthPerSec, m.radPerSec) < SLOW_PER_SEC);
	});
	const worst = found.sort((a, b) => b.growthPerSec - a.growthPerSec)[0];
	if (!worst) return null;
	const { axis, growthPerSec } = worst;
	const hz = worst.radPerSec / (2 * Math.PI);
	const time = Math.LN2 / Math.abs(growthPerSec);
	const how = hz > 0.01 ? `swings at ${hz.toFixed(2)} Hz` : "drifts";
	const trend =
		growthPerSec > 0
			? `doubling every ${time.toFixed(1)} s: the pilot must hold it`
			: `halving every ${time.toFixed(1)} s`;
	return { axis, growthPerSec, hz, sentence: `without an angle loop ${axis} ${how} with speed, ${trend}` };
}
