import { longestStalls, STALL_CAP_MS, STALL_SEEDS } from "../analysis/longest-stall.ts";
import type { StallsJson } from "../report/json/first-minute.ts";
import type { Why } from "../report/json/loop-fields.ts";
import { askedFor } from "./asked-for.ts";
import { EXIT } from "./exit.ts";
import type { Io } from "./io.ts";
import { madeByLine } from "./made-by.ts";
import { emit, type OutputOptions } from "./output.ts";
import type { PointOptions, SetOptions } from "./scenario-options.ts";
import { type Paint, paint, paragraph, right, table } from "./text.ts";

/** `check --stalls` */
export function checkStalls(
	io: Io,
	file: string,
	options: SetOptions & PointOptions & OutputOptions,
): number {
	const { scenario, set, point, made } = askedFor(io, file, options);
	const result: StallsJson = {
		axes: longestStalls(scenario.craft, point, set).map(({ axis, survivesMs, why, beyond }) => ({
			axis,
			survivesMs,
			beyond,
			why: (survivesMs === null ? { survivesMs: why } : {}) as Why,
		})),
		madeBy: made(),
	};
	emit(io, options, {
		json: () => result,
		csv: () => ({
			header: ["axis", "survivesMs", "beyond", "why"],
			rows: result.axes.map((a) => [a.axis, a.survivesMs, a.beyond, a.why["survivesMs"] ?? ""]),
		}),
		text: () => stallsText(result, paint(io.colour), io.width),
	});
	return EXIT.fine;
}

function stallsText(result: StallsJson, paint: Paint, width: number): string {
	const rows = result.axes.map(({ axis, survivesMs, beyond, why }) => [
		axis,
		survivesMs === null ? "-" : String(survivesMs),
		survivesMs === null ? (why["survivesMs"] ?? "") : `one millisecond longer: ${beyond}`,
	]);
	return [
		`${paint.bold("The longest stall that this set survives")}\n${table([{ title: "axis" }, right("ms"), { title: "", wrap: true }], rows, { width, paint })}`,
		paragraph(
			`At hover in still air, the shortest of two kinds: the loop stopped where the axis works hardest on a 5 deg step (yaw: 30 deg/s), and stopped in ${STALL_SEEDS} plain hovers on whatever the sensors' noise had just told the motors; other noise, or wind, may undercut it. Survived is what never leans 60 deg (yaw: turns 360 deg/s). Up to ${STALL_CAP_MS} ms were tried. A write to a card often stops a loop for 50 to 200 ms (common practice, no source): measure yours with the propellers off.`,
			width,
			2,
		),
		paint.dim(paragraph(madeByLine(result.madeBy), width)),
	].join("\n");
}
