import type { Craft, OperatingPoint } from "../craft/model.ts";
import { plantAt } from "../physics/plant-at.ts";
import { fullCommands, pullAt } from "../physics/pull.ts";
import { corners } from "./corners.ts";
import type { CraftReport, Finding, Verdict } from "./craft-report-types.ts";
import type { Facts } from "./finding-rule.ts";
import { RULES } from "./finding-rules.ts";
import { hoverReport, hoverTrim } from "./hover.ts";
import type { MarginsBrief } from "./report-types.ts";

/** What `check` says at an operating point; with margins at hand, the gains' weakest number too. */
export function craftReport(
	craft: Craft,
	point: OperatingPoint,
	margins: MarginsBrief | null = null,
): CraftReport {
	const { plant, result } = hoverTrim(craft, point);
	const trim = result.feasible ? result.trim : null;
	const hover = trim && hoverReport(craft, point, plant, trim);
	const whyNoHover = result.feasible ? "" : result.reason;
	const facts: Facts = {
		craft,
		point,
		plant,
		trim,
		whyNoHover,
		hover,
		worstPull: worstPull(craft, point),
		lostCorners: trim ? lostCorners(craft, point) : [],
		margins,
	};
	const findings = findingsOf(facts);
	return { hover, whyNoHover, findings, verdict: verdict(findings) };
}

function findingsOf(facts: Facts): Finding[] {
	return RULES.flatMap((rule) => {
		const judged = rule.judge(facts);
		return judged ? [{ rule: rule.name, ...judged }] : [];
	});
}

/** The findings line: fit to hover or not, with the weakest number. Without gains no one can say 'fit'. */
export function verdict(findings: readonly Finding[]): Verdict {
	const stop = findings.find((f) => f.level === "stop");
	if (stop) return { fit: false, level: "stop", sentence: `Not fit to hover. ${stop.sentence}` };
	// Cautions that hold for any craft are not what is weak about this one.
	const weak = findings.find((f) => f.level === "care" && f.rule !== "energy" && f.rule !== "invented");
	const judged = findings.find((f) => f.rule === "margins");
	const first = judged ?? findings.find((f) => f.rule === "thrustToWeight");
	return {
		fit: true,
		level: weak ? "care" : "fine",
		sentence: [
			judged ? "Fit to hover, on these numbers." : "It can hover, on these numbers; no gains were judged.",
			weak ? `Take care: ${weak.sentence}` : (first?.sentence ?? ""),
		]
			.join(" ")
			.trim(),
	};
}

function worstPull(craft: Craft, point: OperatingPoint) {
	const plant = plantAt(craft, { ...point, battery: "nearlyEmpty" });
	return pullAt(plant, fullCommands(plant));
}

function lostCorners(craft: Craft, point: OperatingPoint): { name: string; reason: string }[] {
	return corners(craft, point).flatMap(({ name, point: at }) => {
		// Lag and inertia do not change hover.
		if (at.throttle !== "hover" || at.inertiaFactor < 1 || at.motorLagFactor < 1) return [];
		const { result } = hoverTrim(craft, at);
		return result.feasible ? [] : [{ name, reason: result.reason }];
	});
}
