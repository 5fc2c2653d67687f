import type { Sweep, SweepCell } from "../src/tuning/sweep.ts";

/** A run of cells of a sweep, with all that a thread needs to know. */
export interface SweepJob {
	/** The scenario file's text. */
	readonly text: string;
	/** Gain set to use, by name. */
	readonly setName: string;
	/** Taken from each cell's own scenario, where the sweep may change them; left out: as the sweep says. */
	readonly pointName?: string;
	readonly drillName?: string;
	readonly sweep: Sweep;
	/** Unit of each swept value as the file writes it; empty for plain numbers. */
	readonly units: readonly string[];
	readonly first: number;
	readonly count: number;
}

/** Every kind of job that the project's workers do. */
export type Jobs = {
	readonly sweep: {
		readonly job: SweepJob;
		/** Cells as they are finished, in order. */
		readonly progress: readonly SweepCell[];
		readonly result: null;
	};
};
