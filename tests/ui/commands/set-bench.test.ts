import { describe, expect, it } from "vitest";
import heron from "../../../scenarios/heron.json";
import { setBench } from "../../../src/ui/commands/set-bench.ts";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { craftOf, done, readState, wrongAt } from "./on-demo.ts";

const ROWS = [
	{ command: "10 %", thrust: "80 g" },
	{ command: "55 %", thrust: "500 g" },
	{ command: "100 %", thrust: "1070 g" },
];

describe("setBench", () => {
	it("takes out what the table says itself", () => {
		const state = done(setBench(ROWS));
		expect(craftOf(state)["motors"]).not.toHaveProperty("maxThrust");
		expect(craftOf(state)["motors"]).not.toHaveProperty("startCommand");
		expect(craftOf(state)["motors"]).toHaveProperty("thrustCoefficient");
		expect(readState(state).craft.propulsion.curve.commands).toEqual([0.1, 0.55, 1]);
	});
	it("with speed, torque, voltage and current also the coefficients and the efficiency", () => {
		const { propeller, motors } = heron.craft;
		const begun = done(
			setValue("craft.propeller", propeller),
			setValue("craft.battery.efficiency", "70 %"),
			setValue("craft.motors.measuredVoltage", motors.measuredVoltage),
		);
		expect(wrongAt(setValue("craft.motors.bench", motors.bench).apply(begun)).length).toBeGreaterThan(0);
		const state = setBench(motors.bench).apply(begun);
		expect(craftOf(state)["motors"]).not.toHaveProperty("thrustCoefficient");
		expect(craftOf(state)["motors"]).not.toHaveProperty("torqueCoefficient");
		expect(craftOf(state)["battery"]).not.toHaveProperty("efficiency");
		expect(wrongAt(state)).toEqual([]);
	});
	it("no rows take the table out", () =>
		expect(craftOf(done(setBench(ROWS), setBench([])))["motors"]).not.toHaveProperty("bench"));
});
