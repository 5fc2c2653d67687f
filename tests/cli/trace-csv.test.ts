import { expect, test } from "vitest";
import { traceCsv } from "../../src/cli/trace-csv.ts";

test("every column has its unit behind its name, those that end in an index too", () => {
	const half = Float64Array.of(Math.PI / 2);
	const columns = { time: half, roll: half, rotorSpeed0: half, limbAngle1: half, limbTorque0: half };
	const more = { swing0: half, swingNorth0: half, swingEast1: half };
	const [head, row] = traceCsv({ length: 1, columns: { ...columns, ...more } }).split("\n");
	expect(head).toBe(
		"time [s],roll [deg],rotorSpeed0 [rad/s],limbAngle1 [deg],limbTorque0 [N m],swing0 [deg],swingNorth0 [deg],swingEast1 [deg]",
	);
	expect(row).toBe("1.57079633,90,1.57079633,90,1.57079633,90,90,90");
});
