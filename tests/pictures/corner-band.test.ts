import { expect, it } from "vitest";
import { cornerBand } from "../../src/pictures/corner-fan.ts";

it("spans all corners and the nominal answer, whatever their lengths, and names the worst", () => {
	const picture = cornerBand({
		title: "t",
		invented: true,
		label: "roll angle",
		unit: "deg",
		set: { letter: "A", name: "set A" },
		timeSec: [0, 1, 2],
		nominal: [0, 5, 5],
		setPoint: null,
		corners: [
			{ name: "hover", values: [0, 4, 6] },
			{ name: "full throttle", values: [-1, 9] },
		],
		worst: 1,
	});
	const [panel] = picture.panels;
	const [band] = panel!.marks;
	expect(band).toMatchObject({ kind: "region", x: [0, 1, 2, 2, 1, 0], y: [0, 9, 6, 5, 4, -1] });
	expect(panel!.series.map((each) => each.name)).toEqual(["worst: full throttle", "set A"]);
	expect(picture.legend.map((each) => each.text)).toContain("band of 2 corners");
});
