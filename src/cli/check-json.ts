import type { CraftReport, HoverReport } from "../analysis/craft-report-types.ts";
import type { MassOrigin } from "../craft/mass-from-input.ts";
import type { OperatingPoint } from "../craft/model.ts";
import type { Mat3, Vec3 } from "../math/types.ts";
import { plantAt } from "../physics/plant-at.ts";
import type { CheckJson } from "../report/json/check.ts";
import type { MadeBy } from "../report/json/made-by.ts";
import type { Scenario, ScenarioError } from "../scenario/model.ts";

/** `check` of a file that cannot be used. */
export function invalidJson(errors: readonly ScenarioError[], made: MadeBy): CheckJson {
	const reason = "the file has errors";
	return {
		valid: false,
		errors: errors.map(({ path, value, expected, hint, message }) => ({
			path,
			value,
			expected,
			hint,
			message,
		})),
		warnings: [],
		assumed: [],
		hover: null,
		massProperties: null,
		findings: [],
		verdict: null,
		why: { hover: reason, massProperties: reason, verdict: reason },
		madeBy: made,
	};
}

export function checkJson(
	scenario: Scenario,
	point: OperatingPoint,
	report: CraftReport,
	made: MadeBy,
): CheckJson {
	const plant = plantAt(scenario.craft, point);
	return {
		valid: true,
		errors: [],
		warnings: scenario.warnings.map(({ path, sentence }) => ({ path, sentence })),
		assumed: scenario.assumed.map(({ path, value, because, source, measure }) => ({
			path,
			value,
			because,
			source,
			measure,
		})),
		hover: report.hover && hoverJson(report.hover),
		massProperties: {
			massKg: plant.massKg,
			centreOfMassM: [...plant.centreOfMassM],
			inertiaKgM2: rowsOf(plant.inertiaKgM2),
			origin: originJson(scenario.massOrigin),
		},
		findings: report.findings.map(({ rule, level, sentence, reason }) => ({ rule, level, sentence, reason })),
		verdict: { fit: report.verdict.fit, sentence: report.verdict.sentence },
		why: report.hover ? {} : { hover: report.whyNoHover || "the craft cannot hover" },
		madeBy: made,
	};
}

function originJson({ mass, centreOfMass, inertia, shares }: MassOrigin) {
	return {
		mass,
		centreOfMass,
		inertia,
		shares: shares.map((share) => ({
			name: share.name,
			count: share.count,
			massKg: share.massKg,
			momentKgM: [...share.momentKgM] satisfies Vec3,
			inertiaKgM2: rowsOf(share.inertiaKgM2),
		})),
	};
}

function rowsOf([a, b, c, d, e, f, g, h, i]: Mat3): [
	[number, number, number],
	[number, number, number],
	[number, number, number],
] {
	return [
		[a, b, c],
		[d, e, f],
		[g, h, i],
	];
}

function hoverJson(hover: HoverReport): NonNullable<CheckJson["hover"]> {
	const { enduranceMin, whyNoEndurance } = hover;
	return {
		command: hover.command,
		stick: hover.stick,
		stickRange: [hover.stickRange[0], hover.stickRange[1]],
		rotorSpeedRadPerSec: hover.rotorSpeedRadPerSec,
		thrustToWeight: hover.thrustToWeight,
		voltageV: hover.voltageV,
		powerW: hover.powerW,
		enduranceMin,
		throttleSlope: hover.throttleSlope,
		why:
			enduranceMin === null ? { enduranceMin: whyNoEndurance || "it cannot hover down to nearly empty" } : {},
	};
}
