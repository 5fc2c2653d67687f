import { useComputed } from "@preact/signals";
import { craftMixer } from "../../../physics/mixer-at.ts";
import { scenario } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";

const STICKS = [
	{ title: "roll right", column: 0, sign: 1 },
	{ title: "pitch nose up", column: 1, sign: 1 },
	{ title: "yaw clockwise", column: 2, sign: 1 },
] as const;

/** For each stick, which motors speed up and by how much: to be checked on the bench, propellers off. */
export function MixerTable() {
	const table = useComputed(() => craftMixer(scenario.value.craft).table);
	const { rotors } = scenario.value.craft;
	const change = (rotor: number, column: number): string => {
		const entry = table.value[3 * rotor + column]!;
		if (Math.abs(entry) < 5e-4) return "as it was";
		return `${entry > 0 ? "faster" : "slower"} ${Math.abs(entry).toFixed(2)}`;
	};
	return (
		<>
			<DataTable
				caption="Which motor answers which stick"
				columns={[
					{ title: "motor" },
					{ title: "place" },
					{ title: "spins, seen from above" },
					...STICKS.map(({ title }) => ({ title, number: true })),
				]}
				rows={rotors.map((rotor, i) => [
					String(rotor.motorNumber),
					rotor.place,
					rotor.spin === 1 ? "clockwise" : "counter-clockwise",
					...STICKS.map(({ column }) => change(i, column)),
				])}
			/>
			<p class="care">
				Check it with the propellers off: move one stick at a time, or tilt the craft by hand, and feel which
				motors speed up.
			</p>
		</>
	);
}
