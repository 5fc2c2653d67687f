import { useId, useRef, useState } from "preact/hooks";
import type { KindName } from "../../units/kinds.ts";
import { readTyped } from "../entry/typed.ts";
import "./slid-field.css";

export interface SlidFieldProps {
	readonly label: string;
	readonly kind: KindName;
	/** As typed or as read, with its unit. */
	readonly shown: string;
	/** In the unit that it is slid in, as are the ends and the step of the slider and of the arrow keys. */
	readonly value: number;
	readonly least: number;
	readonly most: number;
	readonly step: number;
	readonly about: string;
	/** SI value, and text where it was typed; `joins`: moves of one gesture. Returns why it cannot be, else ''. */
	readonly onMove: (value: number, written: string | undefined, joins: string) => string;
	/** SI over that unit. */
	readonly scale: number;
}

/** A number that is slid, typed with its unit, or nudged with the arrow keys (shift: ten steps). */
export function SlidField(props: SlidFieldProps) {
	const { label, kind, shown, value, least, most, step, about, onMove, scale } = props;
	const id = useId();
	const [typing, setTyping] = useState<string | null>(null);
	const [refused, setRefused] = useState("");
	const gesture = useRef(0);
	const begin = (): void => {
		gesture.current++;
	};
	const move = (si: number, written?: string): string => {
		const why = onMove(si, written, `${label} ${gesture.current}`);
		setRefused(why);
		return why;
	};
	const commit = (): void => {
		if (typing === null) return;
		setTyping(null);
		if (typing === shown) return;
		begin();
		const read = readTyped(kind, typing, shown);
		if (read.ok) move(read.value, read.text);
		else setRefused(`${typing}: expected ${read.expected}${read.hint ? `; ${read.hint}` : ""}`);
	};
	const nudge = (steps: number): void => {
		setTyping(null);
		const to = Math.round(value / step + steps) * step;
		move(Math.max(least, Math.min(most, to)) * scale);
	};
	return (
		<div class={refused ? "field slid wrong" : "field slid"}>
			<label for={id}>{label}</label>
			<div class="slid-row">
				<input
					type="range"
					aria-label={`${label}, slider`}
					aria-valuetext={shown}
					aria-describedby={`${id}note`}
					min={least}
					max={most}
					step="any"
					value={value}
					onPointerDown={begin}
					onFocus={begin}
					onKeyDown={(event) => {
						const steps = KEYS[event.key];
						if (steps === undefined) return;
						event.preventDefault();
						nudge(steps * (event.shiftKey ? 10 : 1));
					}}
					onInput={(event) => {
						const slid = Math.round(Number(event.currentTarget.value) / step) * step;
						const why = move(Math.max(least, Math.min(most, slid)) * scale);
						// The handle does not stay where it was refused.
						if (why) event.currentTarget.value = String(value);
					}}
				/>
				<input
					id={id}
					type="text"
					autoComplete="off"
					spellcheck={false}
					value={typing ?? shown}
					aria-invalid={refused !== ""}
					aria-describedby={`${id}note`}
					onFocus={begin}
					onInput={(event) => setTyping(event.currentTarget.value)}
					onBlur={commit}
					onKeyDown={(event) => {
						if (event.key === "Enter") commit();
						else if (event.key === "Escape") {
							setTyping(null);
							setRefused("");
						} else if (event.key === "ArrowUp" || event.key === "ArrowDown") {
							event.preventDefault();
							nudge((event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 : 1));
						}
					}}
				/>
			</div>
			<p id={`${id}note`} class={refused ? "note stop" : "note quiet"} aria-live="polite">
				{refused || about}
			</p>
		</div>
	);
}

const KEYS: Readonly<Record<string, number>> = {
	ArrowUp: 1,
	ArrowRight: 1,
	ArrowDown: -1,
	ArrowLeft: -1,
	PageUp: 10,
	PageDown: -10,
};
