import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { wrongAgain } from "./first-minute-again.ts";
import { otherWays } from "./first-minute-ways.ts";
import type { WayLost } from "./way-lost.ts";
import { wrongBuilds } from "./wrong-builds.ts";

export interface FirstMinute {
	/** At most ten: what was lost, the often seen first, then the soonest. */
	readonly ways: readonly WayLost[];
	/** How many ways were flown. */
	readonly flown: number;
	/** Flown as well and not lost, by title. */
	readonly survived: readonly string[];
	readonly seed: number;
}

/** Mistakes that are one to a builder: of each group the one that is lost soonest speaks. */
const GROUPS: readonly { readonly of: RegExp; readonly often: 1 | 2 | 3 }[] = [
	{ of: /^motors-swapped$/, often: 1 },
	{ of: /^propeller-wrong-hand$/, often: 1 },
	{ of: /^propeller-upside-down$/, often: 2 },
	{ of: /^gyro-sign/, often: 1 },
	{ of: /^gyro-axes/, often: 2 },
	{ of: /^board-turned/, often: 1 },
	{ of: /^spin-table/, often: 2 },
	{ of: /^stick-reversed/, often: 2 },
	{ of: /^integral/, often: 2 },
	{ of: /^(gyro-in|gyro-converted|angles-in|gains-per)/, often: 2 },
];
const TEN = 10;
const SPUN_DEG_PER_SEC = 180;

/** The ten ways that this craft with these gains would most likely be lost, every one of them flown. */
export function firstMinute(craft: Craft, point: OperatingPoint, set: GainSet): FirstMinute {
	const { builds, seed } = wrongBuilds(craft, point, set);
	const wrong = builds.map((build): WayLost & { readonly kind: string } => {
		const { fall } = build;
		const fallen = fall.fallSec !== null || build.status !== "completed";
		// A craft that turns ever faster about its own axis is no longer flown by anyone.
		const spins = (fall.turn?.faster ?? false) && Math.abs(fall.turn?.degPerSec ?? 0) > SPUN_DEG_PER_SEC;
		return {
			kind: build.kind,
			way: build.kind,
			title: build.motors.length > 0 ? `${build.title} (motor ${build.motors.join(" and ")})` : build.title,
			often: GROUPS.find(({ of }) => of.test(build.kind))?.often ?? 3,
			lost: fallen || spins,
			lostSec: fallen
				? (fall.fallSec ?? build.timeSec - fall.fromSec)
				: spins
					? (fall.turn?.atSec ?? null)
					: null,
			first: build.first,
			bench: build.bench,
			again: wrongAgain(build.kind, build.motors),
		};
	});
	const grouped = GROUPS.flatMap(({ of }) => {
		const mine = wrong.filter(({ kind }) => of.test(kind));
		return mine.length === 0 ? [] : [mine.reduce((a, b) => (soon(b) < soon(a) ? b : a))];
	});
	const all = [...grouped.map(({ kind: _, ...way }) => way), ...otherWays(craft, point, set)];
	const lost = all.filter((each) => each.lost).sort((a, b) => a.often - b.often || soon(a) - soon(b));
	return {
		ways: lost.slice(0, TEN),
		flown: all.length,
		survived: all.filter((each) => !each.lost).map((each) => each.title),
		seed,
	};
}

const soon = ({ lostSec }: WayLost): number => lostSec ?? Number.POSITIVE_INFINITY;
