import { useId, useRef, useState } from "preact/hooks";
import { parsePath, valueAt } from "../../scenario/path.ts";
import type { KindName } from "../../units/kinds.ts";
import { setValue } from "../commands/set-value.ts";
import { nudged, readTyped, shownQuantity } from "../entry/typed.ts";
import { fieldNotes } from "../state/field-notes.ts";
import { run, state } from "../state/store.ts";

export interface QuantityFieldProps {
	/** Into the scenario document, such as 'craft.motors.lagUp'. */
	readonly path: string;
	readonly kind: KindName;
	readonly label: string;
	/** One sentence beside the number. */
	readonly about?: string;
	/** Where an assumed value stands in the notes, if not at the path itself. */
	readonly assumedAt?: string;
}

/**
 * A number of the document, typed with its unit, nudged with the arrow keys (shift: ten steps), or dragged at its label. What was not given is
 * shown as assumed, with its reason; emptied, it is assumed again.
 */
export function QuantityField({ path, kind, label, about = "", assumedAt = path }: QuantityFieldProps) {
	const id = useId();
	const [typing, setTyping] = useState<string | null>(null);
	const [refused, setRefused] = useState("");
	const [remark, setRemark] = useState("");
	const drag = useRef<{ readonly x: number; readonly text: string } | null>(null);
	const given = valueAt(state.value.document, parsePath(path));
	const notes = fieldNotes(assumedAt);
	const shown = given === undefined ? (notes.assumed?.value ?? "") : shownQuantity(kind, given);
	const isAssumed = given === undefined && notes.assumed !== null;

	const write = (text: string, joins?: string): void => {
		if (text.trim() === "") {
			setRefused("");
			setRemark("");
			run(setValue(path, undefined, label, joins));
			return;
		}
		const read = readTyped(kind, text, shown);
		if (!read.ok) {
			setRefused(`${text}: expected ${read.expected}${read.hint ? `; ${read.hint}` : ""}`);
			return;
		}
		setRefused("");
		setRemark(read.remark);
		if (read.text !== shown) run(setValue(path, read.text, label, joins));
	};
	const commit = (): void => {
		if (typing === null) return;
		if (typing !== shown) write(typing);
		setTyping(null);
	};
	const nudge = (steps: number, joins: string): void => {
		const text = nudged(typing ?? shown, steps);
		setTyping(null);
		write(text, joins);
	};
	const noteId = `${id}note`;
	const message = refused || notes.error?.message || "";
	return (
		<div class={`field${isAssumed ? " assumed" : ""}${message ? " wrong" : ""}`}>
			<label
				for={id}
				class="handle"
				onPointerDown={(event) => {
					if (shown === "") return;
					drag.current = { x: event.clientX, text: shown };
					event.currentTarget.setPointerCapture(event.pointerId);
				}}
				onPointerMove={(event) => {
					const from = drag.current;
					if (!from) return;
					const steps = Math.round((event.clientX - from.x) / 6);
					if (steps !== 0 || shown !== from.text)
						write(nudged(from.text, steps), `drag ${path} ${from.text}`);
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
				inputMode="text"
				autoComplete="off"
				spellcheck={false}
				value={typing ?? shown}
				aria-invalid={message !== ""}
				aria-describedby={noteId}
				onInput={(event) => setTyping(event.currentTarget.value)}
				onBlur={commit}
				onKeyDown={(event) => {
					if (event.key === "Enter") commit();
					else if (event.key === "Escape") {
						setTyping(null);
						setRefused("");
					} else if (event.key === "ArrowUp" || event.key === "ArrowDown") {
						event.preventDefault();
						nudge((event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 : 1), `nudge ${path}`);
					}
				}}
			/>
			<div id={noteId} class="note">
				{message ? <p class="stop">{message}</p> : null}
				{remark && !message ? <p class="quiet">{remark}</p> : null}
				{notes.odd.map((sentence) => (
					<p class="care" key={sentence}>
						{sentence}
					</p>
				))}
				{isAssumed && notes.assumed ? (
					<details>
						<summary>assumed</summary>
						<p>
							{notes.assumed.because}. Source: {notes.assumed.source}. To measure: {notes.assumed.measure}.
						</p>
					</details>
				) : null}
				{about ? <p class="quiet">{about}</p> : null}
			</div>
		</div>
	);
}
