import { useState } from "preact/hooks";
import type { FlightResult } from "../../flight/result.ts";
import { toEuler } from "../../math/quaternion.ts";
import type { NamedSet } from "../../pictures/looks.ts";
import { cursorSec } from "../state/cursor.ts";
import { poseAt } from "../three/motion.ts";
import { DataTable } from "./data-table.tsx";
import "./picture-numbers.css";

const DEG = 180 / Math.PI;

/** What the replay shows at the cursor: where each flight is, how it is turned, what its motors are asked for. */
export function ReplayNumbers({
	pair,
	endSec,
	motors,
}: {
	readonly pair: readonly (NamedSet & { readonly flight: FlightResult })[];
	readonly endSec: number;
	/** The builder's numbers, rotor by rotor. */
	readonly motors: readonly number[];
}) {
	const [open, setOpen] = useState(false);
	return (
		<details id="replay-numbers" class="numbers" onToggle={(event) => setOpen(event.currentTarget.open)}>
			<summary>
				Numbers<span class="visually-hidden"> of the replay</span>
			</summary>
			{open ? <AtCursor pair={pair} endSec={endSec} motors={motors} /> : null}
		</details>
	);
}

function AtCursor({ pair, endSec, motors }: Parameters<typeof ReplayNumbers>[0]) {
	const nowSec = Math.min(cursorSec.value ?? 0, endSec);
	const columns = pair.map(({ flight }) => {
		const { placeM, attitude, commands, rotorSpeedsRadPerSec } = poseAt(flight.trace, nowSec, motors.length);
		const [north, east, down] = placeM;
		return {
			turns: toEuler(attitude).map((angle) => (angle * DEG).toFixed(1)),
			places: [north, east, -down].map((metres) => metres.toFixed(3)),
			commands: commands.map((command) => (100 * command).toFixed(1)),
			speeds: rotorSpeedsRadPerSec.map((speed) => ((speed * 60) / (2 * Math.PI)).toFixed(0)),
		};
	});
	type Column = (typeof columns)[number];
	const row = (what: string, unit: string, value: (column: Column) => string): string[] => [
		what,
		unit,
		...columns.map(value),
	];
	return (
		<DataTable
			caption={`The replay at ${nowSec.toFixed(2)} s`}
			columns={[
				{ title: "what" },
				{ title: "unit" },
				...pair.map(({ letter }) => ({ title: letter, number: true })),
			]}
			rows={[
				...["roll", "pitch", "yaw"].map((what, i) => row(what, "deg", ({ turns }) => turns[i]!)),
				...["north", "east", "up"].map((what, i) => row(what, "m", ({ places }) => places[i]!)),
				...motors.map((number, i) => row(`motor ${number} asked for`, "%", ({ commands }) => commands[i]!)),
				...motors.map((number, i) => row(`rotor ${number} turns`, "rpm", ({ speeds }) => speeds[i]!)),
			]}
		/>
	);
}
