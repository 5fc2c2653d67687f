/** How boldly starting gains may be chosen: the limits that they keep in every corner. */
export type Character = "gentle" | "even" | "lively";
export const CHARACTERS: readonly Character[] = ["gentle", "even", "lively"];

export interface Limits {
	/** Peak of |S|, every opening. */
	readonly ms: number;
	/** Peak of |T|, angle loop (yaw: none). */
	readonly mt: number;
	readonly phaseMarginDeg: number;
	readonly gainMarginUpDb: number;
	readonly gainMarginDownDb: number;
	/** In periods of the slowest clock inside the opened loop, receiver excluded. */
	readonly delayMarginPeriods: number;
	/** And never less than this. */
	readonly leastDelayMarginSec: number;
	/** RMS of u from gyro noise, fraction of command. */
	readonly noiseRms: number;
	/** ki/kp stays below crossover over this. */
	readonly crossoverPerIntegral: number;
	/** k_angle stays below crossover over this. */
	readonly crossoverPerAngle: number;
	/** A set-point step (10 degrees; yaw 30 degrees a second) asks at once for no more than this share of the authority at hover. */
	readonly authorityShare: number;
}

const COMMON = { leastDelayMarginSec: 0.0015, crossoverPerAngle: 3, authorityShare: 1 };

/**
 * docs/tuning.md. 6 dB and 45 degrees: classic flight-control requirement (SAE AS94900 / MIL-DTL-9490, from memory);
 * the rest is common practice, no source.
 */
const TABLE: { readonly [C in Character]: Limits } = {
	gentle: {
		ms: 1.4,
		mt: 1.25,
		phaseMarginDeg: 50,
		gainMarginUpDb: 12,
		gainMarginDownDb: 8,
		delayMarginPeriods: 1.5,
		noiseRms: 0.01,
		crossoverPerIntegral: 8,
		...COMMON,
	},
	even: {
		ms: 1.6,
		mt: 1.4,
		phaseMarginDeg: 45,
		gainMarginUpDb: 9,
		gainMarginDownDb: 6,
		delayMarginPeriods: 1,
		noiseRms: 0.02,
		crossoverPerIntegral: 6,
		...COMMON,
	},
	lively: {
		ms: 1.9,
		mt: 1.6,
		phaseMarginDeg: 40,
		gainMarginUpDb: 7,
		gainMarginDownDb: 5,
		delayMarginPeriods: 0.75,
		noiseRms: 0.03,
		crossoverPerIntegral: 4,
		...COMMON,
	},
};

/** Least sensible value of each limit (exclusive): at or beyond it nothing could keep it, or it limits nothing. */
const FLOOR: { readonly [K in keyof Limits]: number } = {
	ms: 1,
	mt: 1,
	phaseMarginDeg: 0,
	gainMarginUpDb: 0,
	gainMarginDownDb: 0,
	delayMarginPeriods: -1,
	leastDelayMarginSec: -1,
	noiseRms: 0,
	crossoverPerIntegral: 0,
	crossoverPerAngle: 0,
	authorityShare: 0,
};

/** By what the search's grid may pass between the points of a peak; kept from the start, so that few searches run twice. */
const GRID_SLACK = 0.003;

/** What the search keeps so that those limits hold when looked at closer. */
export const searchLimits = (limits: Limits): Limits => ({
	...limits,
	ms: limits.ms * (1 - GRID_SLACK),
	mt: limits.mt * (1 - GRID_SLACK),
});

/**
 * The limits of a character, with changes.
 * @throws RangeError for an unknown name, an unknown limit or a value that no loop can keep.
 */
export function limitsOf(character: Character, changes: { readonly [limit: string]: number } = {}): Limits {
	const base = TABLE[character];
	if (!base) throw new RangeError(`character '${character}': expected one of ${CHARACTERS.join(", ")}`);
	for (const [name, value] of Object.entries(changes)) {
		const floor = FLOOR[name as keyof Limits];
		if (floor === undefined)
			throw new RangeError(`limit '${name}': expected one of ${Object.keys(FLOOR).join(", ")}`);
		if (!(Number.isFinite(value) && value > floor))
			throw new RangeError(`limit ${name} ${value}: expected a number above ${floor}`);
	}
	return { ...base, ...changes };
}
