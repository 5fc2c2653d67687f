import { gcd, lcm } from "./age-pattern.ts";

const LONGEST_HYPERPERIOD_US = 1_000_000;
/** Errors of a mean age, as shares of the tick or a tenth of the slowest clock; within one of these the shortest repetition is taken. */
const TOLERANCES = [1e-3, 2e-3, 5e-3, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10];
/** Share that the tick may move by. */
const TICK_MOVES = 0.02;

/**
 * Whole periods, microseconds, the control tick's first, that repeat together within a second: those asked for where they do,
 * else near ones. A changed period makes a value older or younger by half of the change, on average. Clocks that meet more
 * often than the true ones no longer drift through every phase, which at the worst phase adds half of their common step; clocks
 * that meet less often begin to. The largest sum of both is made as small as can be. `text` says which were changed; empty: none.
 */
export function repeating(askedUs: readonly number[]): {
	readonly periods: readonly number[];
	readonly text: string;
} {
	if (askedUs.reduce(lcm) <= LONGEST_HYPERPERIOD_US) return { periods: askedUs, text: "" };
	const periods = nearest(askedUs);
	const changes = askedUs.flatMap((p, i) => (p === periods[i] ? [] : [`${p} us as ${periods[i]} us`]));
	return { periods, text: `clocks that repeat together too rarely are taken as ${changes.join(", ")}` };
}

function nearest([tick, ...others]: readonly number[]): number[] {
	const asked = tick!;
	const scale = Math.max(asked, ...others.map((other) => other / 10));
	const common = others.map((other) => gcd(asked, other));
	let best = { tier: TOLERANCES.length + 1, hyperperiod: 0, tick: asked };
	const most = Math.floor(asked * TICK_MOVES);
	for (let near = asked - most; near <= asked + most; near++)
		for (let h = near; h <= LONGEST_HYPERPERIOD_US; h += near) {
			let worst = Math.abs(near - asked) / 2;
			for (let i = 0; i < others.length && tierOf(worst / scale) <= best.tier; i++) {
				const other = divisorNear(h, others[i]!);
				const change = Math.abs(other - others[i]!) + Math.abs(gcd(near, other) - common[i]!);
				worst = Math.max(worst, change / 2);
			}
			const tier = tierOf(worst / scale);
			if (tier < best.tier || (tier === best.tier && h < best.hyperperiod))
				best = { tier, hyperperiod: h, tick: near };
		}
	return [best.tick, ...others.map((other) => divisorNear(best.hyperperiod, other))];
}

const tierOf = (share: number): number => {
	const found = TOLERANCES.findIndex((tolerance) => share <= tolerance);
	return found < 0 ? TOLERANCES.length : found;
};

/** The divisor of h that is nearest to `asked` among those that go into it about as often; h itself if none does. */
function divisorNear(h: number, asked: number): number {
	const times = Math.round(h / asked);
	let best = h;
	const around = 2 + Math.min(40, Math.floor(0.03 * times));
	for (let n = Math.max(1, times - around); n <= times + around; n++)
		if (h % n === 0 && Math.abs(h / n - asked) < Math.abs(best - asked)) best = h / n;
	return best;
}
