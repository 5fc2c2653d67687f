import { useId, useRef, useState } from "preact/hooks";
import type { AxisName } from "../../control/spec.ts";
import { type GainKey, setGain } from "../commands/set-gain.ts";
import { gainUnit } from "../entry/gain-units.ts";
import { nudged } from "../entry/typed.ts";
import { asTyped } from "../state/gain-entry.ts";
import { run, scenario } from "../state/store.ts";

export interface GainFieldProps {
	readonly set: string;
	readonly axis: AxisName;
	readonly gain: GainKey;
	readonly label: string;
}

/** One gain as a number: typed, nudged with the arrow keys, dragged at its label; in the units that are chosen. */
export function GainField({ set: name, axis, gain, label }: GainFieldProps) {
	const id = useId();
	const [typing, setTyping] = useState<string | null>(null);
	const drag = useRef<{ readonly x: number; readonly text: string } | null>(null);
	const set = scenario.value.gainSets.find((each) => each.name === name);
	if (!set) return null;
	const { factor, unit } = gainUnit(set, axis, gain, scenario.value.firmware, asTyped.value);
	const shown = String(Number((set[axis][gain] * factor).toPrecision(4)));
	const write = (text: string, joins?: string): void => {
		const number = Number(text.replace(",", "."));
		if (text.trim() === "" || !Number.isFinite(number) || text === shown) return;
		run(setGain(name, axis, gain, number / factor, joins));
	};
	const commit = (): void => {
		if (typing !== null) write(typing);
		setTyping(null);
	};
	return (
		<span class="gain">
			<label
				for={id}
				class="handle"
				onPointerDown={(event) => {
					drag.current = { x: event.clientX, text: shown };
					event.currentTarget.setPointerCapture(event.pointerId);
				}}
				onPointerMove={(event) => {
					const from = drag.current;
					if (!from) return;
					const steps = Math.round((event.clientX - from.x) / 5);
					write(nudged(from.text, steps), `drag ${gain} ${axis} ${name} ${from.text}`);
				}}
				onPointerUp={() => {
					drag.current = null;
				}}
				onPointerCancel={() => {
					drag.current = null;
				}}
			>
				{label}
			</label>
			<input
				id={id}
				type="text"
				inputMode="decimal"
				autoComplete="off"
				spellcheck={false}
				aria-describedby={`${id}unit`}
				value={typing ?? shown}
				onInput={(event) => setTyping(event.currentTarget.value)}
				onBlur={commit}
				onKeyDown={(event) => {
					if (event.key === "Enter") commit();
					else if (event.key === "Escape") setTyping(null);
					else if (event.key === "ArrowUp" || event.key === "ArrowDown") {
						event.preventDefault();
						const text = nudged(
							typing ?? shown,
							(event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 : 1),
						);
						setTyping(null);
						write(text, `nudge ${gain} ${axis} ${name}`);
					}
				}}
			/>
			<small id={`${id}unit`}>{unit}</small>
		</span>
	);
}
