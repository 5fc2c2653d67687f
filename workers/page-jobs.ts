import type { axisOnTheLine, feltOnAxis } from "../src/analysis/axis-margins.ts";
import type { CraftReport } from "../src/analysis/craft-report-types.ts";
import type { FirstMinute } from "../src/analysis/first-minute.ts";
import type { MarginsBrief, MarginsResult } from "../src/analysis/report-types.ts";
import type { WrongBuildsReport } from "../src/analysis/wrong-builds.ts";
import type { AxisName, GainSet } from "../src/control/spec.ts";
import type { FlightResult } from "../src/flight/result.ts";
import type { CornerStep, NominalStep } from "../src/report/corner-steps.ts";
import type { FlightJson } from "../src/report/json/fly.ts";
import type { LoopSamples } from "../src/report/loop-pictures.ts";
import type { ReachNumbers } from "../src/report/reach-json.ts";
import type { ScheduleJson } from "../src/report/schedule-json.ts";
import type { Character } from "../src/tuning/characters.ts";
import type { TuneResult } from "../src/tuning/result.ts";
import type { Progress } from "../src/tuning/schedule.ts";
import type { Jobs } from "./jobs.ts";

/** What every question about a scenario names. Names, not objects: they cross threads as they are. */
export interface About {
	/** The scenario document as JSON text: threads keep what they made of the last few. */
	readonly text: string;
	readonly point: string;
}

/** What has been flown so far. */
export interface CornerFlights {
	readonly nominal: NominalStep;
	readonly flown: readonly CornerStep[];
	readonly total: number;
}

/** Every kind of job that the page's workers do: what goes in, what is said on the way, what comes out. */
export type PageJobs = {
	/** Findings, hover numbers and verdict; `set` null: of the craft alone. */
	readonly report: {
		readonly job: About & { readonly set: string | null };
		readonly progress: never;
		readonly result: { readonly report: CraftReport; readonly brief: MarginsBrief | null };
	};
	readonly margins: {
		readonly job: About & { readonly set: string };
		readonly progress: never;
		readonly result: MarginsResult;
	};
	/** One axis by its frequency answers. */
	readonly axis: {
		readonly job: About & {
			readonly set: string;
			readonly axis: AxisName;
			/** Something is being dragged: stability by mean ages, quick enough to follow. */
			readonly moving?: true;
		};
		readonly progress: never;
		readonly result: ReturnType<typeof axisOnTheLine>;
	};
	/** What a pilot would feel of one axis. */
	readonly felt: {
		readonly job: About & { readonly set: string; readonly axis: AxisName };
		readonly progress: never;
		readonly result: ReturnType<typeof feltOnAxis>;
	};
	/** An open loop sampled for the pictures; null: this axis has none of that name. */
	readonly loop: {
		readonly job: About & {
			readonly set: string;
			readonly axis: AxisName;
			readonly opened: "rate" | "angle" | "whole";
		};
		readonly progress: never;
		readonly result: LoopSamples | null;
	};
	/** Starting gains of one character; with `alternatives` also what would buy more, which takes longest. */
	readonly tune: {
		readonly job: Pick<About, "text"> & {
			readonly character: Character;
			readonly alternatives: boolean;
			/** In the corners of every pose of the reach arm too. */
			readonly reach?: boolean;
		};
		readonly progress: never;
		readonly result: TuneResult;
	};
	readonly flight: {
		readonly job: About & {
			readonly set: string;
			readonly drill: string;
			/** Without noise and rounding, only so many seconds: quick enough to follow a drag. */
			readonly quickSec?: number;
		};
		readonly progress: never;
		readonly result: { readonly flight: FlightResult; readonly json: FlightJson };
	};
	/** The same flight; a quick one no more of it than the step picture shows. */
	readonly step: {
		readonly job: PageJobs["flight"]["job"];
		readonly progress: never;
		readonly result: { readonly flight: FlightResult; readonly json: FlightJson | null };
	};
	/** Every mistake in building, flown; the ten ways a first minute most likely ends. Some seconds each. */
	readonly wrongBuilds: {
		readonly job: About & { readonly set: string };
		readonly progress: never;
		readonly result: WrongBuildsReport;
	};
	readonly firstMinute: {
		readonly job: About & { readonly set: string };
		readonly progress: never;
		readonly result: FirstMinute;
	};
	/** How far the reach arm may go with which load: after every pose what is known so far. About a second each. */
	readonly reach: {
		readonly job: About & { readonly set: string; readonly character: Character };
		readonly progress: ReachNumbers;
		readonly result: ReachNumbers;
	};
	/** Gains that follow pose and load of the reach arm: a minute or so. */
	readonly schedule: {
		readonly job: Pick<About, "text"> & { readonly character: Character };
		readonly progress: Progress;
		readonly result: { readonly gainSet: GainSet | null; readonly json: ScheduleJson };
	};
	/** A run of cells of a sweep, as on the command line. */
	readonly sweep: Jobs["sweep"];
	/** A step flown at the nominal point and in every corner; corners spread over the whole list come first. */
	readonly corners: {
		readonly job: About & { readonly set: string; readonly axis: AxisName };
		readonly progress: CornerFlights;
		readonly result: CornerFlights;
	};
};
