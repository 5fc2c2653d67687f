/** One way to lose the craft in its first minute: flown with these gains, and how to notice it before. */
export interface WayLost {
	/** Its own name, such as 'motors-swapped'. */
	readonly way: string;
	readonly title: string;
	/** Seen most among first flights: 1, then 2, 3: common practice, no source. */
	readonly often: 1 | 2 | 3;
	/** Flown here, it ended in a loss. */
	readonly lost: boolean;
	/** From when it gets light, or from what went wrong, to 40 degrees or the ground; null where it was not lost. */
	readonly lostSec: number | null;
	/** What the first 300 ms look like: flown, a sentence with its numbers. */
	readonly first: string;
	/** How to notice it with the propellers off. */
	readonly bench: string;
	/** A command that flies it, or one like it. */
	readonly again: string;
}
