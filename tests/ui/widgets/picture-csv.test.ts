import { expect, it } from "vitest";
import { pictureCsv } from "../../../src/ui/widgets/picture-csv.ts";
import { SAMPLES } from "../../pictures/samples.ts";

it("has a row for every point of every curve, units in the panel's name, and a field's cells", () => {
	const step = SAMPLES["step"]!;
	const rows = pictureCsv(step).trimEnd().split("\r\n");
	const points = step.panels[0]!.series.reduce((sum, each) => sum + each.x.length, 0);
	expect(rows).toHaveLength(1 + points);
	expect(rows[0]).toBe("panel,curve,x,y,value");
	expect(rows[1]).toMatch(/^roll angle \(deg\) over time \(s\),[A-C]?[^,]*,0,-?[\d.e-]+,$/);
	for (const picture of Object.values(SAMPLES))
		expect(pictureCsv(picture)).not.toMatch(/NaN|undefined|Infinity/);
});
