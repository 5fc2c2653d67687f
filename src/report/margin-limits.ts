import type { MarginsReport } from "../analysis/report-types.ts";
import type { Margin, ScalarLoopResult } from "../analysis/scalar-loop-types.ts";
import { AXES } from "../control/spec.ts";
import { fixed } from "./format.ts";

/**
 * What `margins` and `compare` ask of every opening before they call a gain set fine: a tenth below what the lively
 * character keeps (5 dB down, 40 degrees), so that gains tuned to a limit do not fail by their last digit. The classic
 * flight-control requirement is 6 dB and 45 degrees (SAE AS94900 / MIL-DTL-9490, from memory); this is common practice,
 * no source.
 */
export const REQUIRED = { gainMarginDb: 4.5, phaseMarginDeg: 36 } as const;

export const OPENINGS = [
	["rateLoop", "rate loop"],
	["angleLoop", "angle loop"],
	["wholeAxis", "whole axis"],
] as const;

/** What is below the limits, one sentence each. */
export function brokenLimits(report: MarginsReport): string[] {
	const broken: string[] = [];
	if (!report.periodic.stable)
		broken.push(
			`the closed loop is unstable: over one hyperperiod it grows by a factor ${fixed(report.periodic.spectralRadius, 4)}`,
		);
	for (const axis of AXES)
		for (const [key, name] of OPENINGS) {
			const loop: ScalarLoopResult | null = report.axes[axis][key];
			if (!loop) continue;
			if (!loop.stable) broken.push(`${axis} ${name}: ${loop.why || "unstable"}`);
			const least = (label: string, margin: Margin, limit: number, unit: string) => {
				if (margin.value !== null && margin.value < limit)
					broken.push(
						`${axis} ${name}: ${label} ${fixed(margin.value, 1)} ${unit}, wanted at least ${limit}`,
					);
			};
			least("gain margin up", loop.gainMarginUpDb, REQUIRED.gainMarginDb, "dB");
			least("gain margin down", loop.gainMarginDownDb, REQUIRED.gainMarginDb, "dB");
			least("phase margin", loop.phaseMarginDeg, REQUIRED.phaseMarginDeg, "deg");
		}
	return broken;
}
