import { describe, expect, it } from "vitest";
import { axisOnTheLine, feltOnAxis } from "../../src/analysis/axis-margins.ts";
import { marginsReport } from "../../src/analysis/margins-report.ts";
import { AXES } from "../../src/control/spec.ts";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { good, textOf } from "../scenario/files.ts";

describe.each(["sandpiper", "wren", "heron"])("%s", (name) => {
	const { craft, gainSets } = good(textOf(name));
	const set = gainSets[0]!;
	it("an axis alone says what the whole report says of it, felt frequencies too", () => {
		const whole = marginsReport(craft, set, NOMINAL_POINT);
		if (!whole.feasible) throw new Error(whole.reason);
		for (const axis of AXES) {
			const alone = axisOnTheLine(craft, set, NOMINAL_POINT, axis);
			const felt = feltOnAxis(craft, set, NOMINAL_POINT, axis);
			if (!alone.feasible || !felt.feasible) throw new Error("expected a trim");
			expect({ ...alone.margins, felt: felt.felt }).toEqual(whole.report.axes[axis]);
		}
	});
	it("judged by mean ages it is the same, stable and unstable", () => {
		for (const axis of AXES)
			for (const factor of [0.3, 1, 200]) {
				const own = { ...set[axis], kp: factor * set[axis].kp };
				const [quick, lifted] = (["meanAges", "lifted"] as const).map((judgement) =>
					axisOnTheLine(craft, { ...set, [axis]: own }, NOMINAL_POINT, axis, judgement),
				);
				if (!quick!.feasible || !lifted!.feasible) throw new Error("expected a trim");
				const { rateLoop } = lifted!.margins;
				expect(rateLoop.stable, `${axis} times ${factor}`).toBe(factor < 200);
				if (factor < 200) expect(quick!.margins).toEqual(lifted!.margins);
				else {
					expect(quick!.margins.rateLoop.stable).toBe(false);
					expect(quick!.margins.rateLoop.crossings).toEqual(rateLoop.crossings);
					expect(rateLoop.why).toMatch(/^the closed loop grows by a factor/);
					expect(quick!.margins.rateLoop.why).toBe("the closed loop grows");
				}
			}
	});
});
