import { useRef, useState } from "preact/hooks";
import type { Reader } from "../entry/readers.ts";

interface Options {
	/** Names the field in steps of undo that belong together. */
	readonly key: string;
	readonly reader: Reader;
	/** What stands in the field while no one types. */
	readonly shown: string;
	/** What stands beside an empty field, for the unit of a bare number. */
	readonly like?: string;
	/** `undefined`: emptied. */
	readonly write: (value: unknown, joins?: string) => void;
}

/** How a field is typed into, nudged with the arrow keys (shift: ten steps) and dragged at its label, for whatever it holds. */
export function useTyped({ key, reader, shown, like = "", write }: Options) {
	const [typing, setTyping] = useState<string | null>(null);
	const [refused, setRefused] = useState("");
	const [remark, setRemark] = useState("");
	const drag = useRef<{ readonly x: number; readonly text: string } | null>(null);
	const { nudge } = reader;

	const take = (text: string, joins?: string): void => {
		setRefused("");
		setRemark("");
		if (text.trim() === "") {
			write(undefined, joins);
			return;
		}
		const read = reader.read(text, shown === "" ? like : shown);
		if (!read.ok) {
			setRefused(`${text}: expected ${read.expected}${read.hint ? `; ${read.hint}` : ""}`);
			return;
		}
		setRemark(read.remark);
		if (read.shown !== shown) write(read.written, joins);
	};
	const commit = (): void => {
		if (typing === null) return;
		if (typing !== shown) take(typing);
		setTyping(null);
	};
	const endDrag = (): void => {
		drag.current = null;
	};
	return {
		refused,
		remark,
		input: {
			type: "text" as const,
			autoComplete: "off",
			spellcheck: false,
			value: typing ?? shown,
			onInput: (event: { readonly currentTarget: HTMLInputElement }) => setTyping(event.currentTarget.value),
			onBlur: commit,
			onKeyDown: (event: KeyboardEvent) => {
				if (event.key === "Enter") commit();
				else if (event.key === "Escape") {
					setTyping(null);
					setRefused("");
				} else if (nudge && (event.key === "ArrowUp" || event.key === "ArrowDown")) {
					event.preventDefault();
					const steps = (event.key === "ArrowUp" ? 1 : -1) * (event.shiftKey ? 10 : 1);
					const text = nudge(typing ?? shown, steps);
					setTyping(null);
					take(text, `nudge ${key}`);
				}
			},
		},
		/** For the label. */
		handle: nudge
			? {
					class: "handle",
					onPointerDown: (event: PointerEvent & { readonly currentTarget: HTMLElement }) => {
						if (shown === "") return;
						drag.current = { x: event.clientX, text: shown };
						event.currentTarget.setPointerCapture(event.pointerId);
					},
					onPointerMove: (event: PointerEvent) => {
						const from = drag.current;
						if (!from) return;
						const steps = Math.round((event.clientX - from.x) / 6);
						if (steps !== 0 || shown !== from.text) take(nudge(from.text, steps), `drag ${key} ${from.text}`);
					},
					onPointerUp: endDrag,
					onPointerCancel: endDrag,
				}
			: {},
	};
}
