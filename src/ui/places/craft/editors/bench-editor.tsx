import { useState } from "preact/hooks";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { addEntry } from "../../../commands/add-entry.ts";
import { removeEntry } from "../../../commands/remove-entry.ts";
import { setBench } from "../../../commands/set-bench.ts";
import { sortRows } from "../../../commands/sort-rows.ts";
import type { PlainUnits } from "../../../entry/bench-paste.ts";
import { readBench } from "../../../entry/bench-paste.ts";
import { run, state } from "../../../state/store.ts";
import { BENCH_COLUMNS } from "../part-fields.ts";
import { BenchPaste, FIRST_UNITS } from "./bench-paste.tsx";
import { Lines } from "./lines.tsx";
import { TableField } from "./table-field.tsx";

const PATH = "craft.motors.bench";
/** To be typed over: nothing is said of what was not measured. */
const BLANK = [{ command: "0 %", thrust: 0 }, {}, { command: "100 %" }];

/** What a thrust stand said, row by row: typed, or pasted as a spreadsheet copies it. */
export function BenchEditor() {
	const [units, setUnits] = useState<PlainUnits>(FIRST_UNITS);
	const [said, setSaid] = useState("");
	const [problems, setProblems] = useState<readonly string[]>([]);
	const list = valueAt(state.value.document, parsePath(PATH));
	const rows = Array.isArray(list) ? list : [];
	const paste = (text: string): boolean => {
		const read = readBench(text, units);
		setProblems(read.ok ? [] : read.problems);
		setSaid(read.ok ? read.said : "");
		if (read.ok) run(setBench(read.rows, "paste a bench table"));
		return read.ok;
	};
	return (
		<div class="list-editor">
			<p class="quiet">
				Command, thrust and, where measured, speed, torque, voltage under load and current of ONE motor. It
				takes the place of most thrust, full speed and start command; with speed or torque also of the
				coefficients.
			</p>
			<p class="care small">
				A propeller on a stand can break loose: clamp it, stand out of its plane, eye protection on, one hand
				at the switch, nobody else near.
			</p>
			{rows.length === 0 ? (
				<div class="row">
					<button type="button" onClick={() => run(setBench(BLANK, "begin a bench table"))}>
						Begin a table by hand
					</button>
				</div>
			) : (
				<TableField
					path={PATH}
					label="Bench table"
					row="row"
					columns={BENCH_COLUMNS}
					rows={rows.map((_, i) => ({ name: String(i + 1), path: `${PATH}[${i}]` }))}
					remove={{
						least: 2,
						run: (i) => run(removeEntry(PATH, i, `take out row ${i + 1} of the bench table`)),
					}}
					onPaste={paste}
				>
					<button type="button" onClick={() => run(addEntry(PATH, {}, "add a row to the bench table"))}>
						Add a row
					</button>
					<button
						type="button"
						onClick={() => run(sortRows(PATH, "command", "fraction", "sort the bench table"))}
					>
						Sort by command
					</button>
					<button type="button" class="plain" onClick={() => run(setBench([], "take out the bench table"))}>
						Take out the table
					</button>
				</TableField>
			)}
			{rows.length > 0 ? <Lines path={`${PATH}[].speed`} /> : null}
			<BenchPaste units={units} onUnits={setUnits} onPaste={paste} problems={problems} said={said} />
		</div>
	);
}
