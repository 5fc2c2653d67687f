import { useId, useState } from "preact/hooks";
import { BENCH_KEYS, BENCH_PASTE, type PlainUnits } from "../../../entry/bench-paste.ts";

export const FIRST_UNITS = Object.fromEntries(
	BENCH_KEYS.map((key) => [key, BENCH_PASTE[key].units[0]!]),
) as PlainUnits;

interface Props {
	readonly units: PlainUnits;
	readonly onUnits: (units: PlainUnits) => void;
	/** True where it could be read. */
	readonly onPaste: (text: string) => boolean;
	readonly problems: readonly string[];
	readonly said: string;
}

/** A table out of a spreadsheet: text that can be mended until every cell is understood; nothing changes before. */
export function BenchPaste({ units, onUnits, onPaste, problems, said }: Props) {
	const id = useId();
	const [text, setText] = useState("");
	return (
		<details class="paste">
			<summary>Paste from a spreadsheet</summary>
			<div class="field">
				<label for={id}>Rows, as copied or as CSV</label>
				<textarea
					id={id}
					rows={5}
					spellcheck={false}
					value={text}
					placeholder={"command, %\tthrust, g\tspeed, rpm\n25\t455\t2100"}
					aria-invalid={problems.length > 0}
					aria-describedby={`${id}note`}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
				<div id={`${id}note`} class="note" aria-live="polite">
					{problems.map((each) => (
						<p class="stop" key={each}>
							{each}
						</p>
					))}
					{said ? <p class="fine">{said}</p> : null}
					<p class="quiet">
						With headings in any order, units in them or in the cells; without headings in the order command,
						thrust, speed, torque, voltage, current. Numbers that say no unit are taken in:
					</p>
				</div>
			</div>
			<div class="row units">
				{BENCH_KEYS.filter((key) => BENCH_PASTE[key].units.length > 1).map((key) => (
					<label key={key} class="small">
						{key}{" "}
						<select
							value={units[key]}
							onChange={(event) => onUnits({ ...units, [key]: event.currentTarget.value })}
						>
							{BENCH_PASTE[key].units.map((unit) => (
								<option key={unit}>{unit}</option>
							))}
						</select>
					</label>
				))}
				<button
					type="button"
					disabled={text.trim() === ""}
					onClick={() => {
						if (onPaste(text)) setText("");
					}}
				>
					Take these rows
				</button>
			</div>
		</details>
	);
}
