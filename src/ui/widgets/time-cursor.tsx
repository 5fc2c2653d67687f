import { useSignalEffect } from "@preact/signals";
import { useEffect, useMemo, useRef } from "preact/hooks";
import { pictureLayout } from "../../pictures/layout.ts";
import type { Picture } from "../../pictures/picture.ts";
import { panelScales } from "../../pictures/scale.ts";
import type { ValueAt } from "../../pictures/values-at.ts";
import { cursorSec, keyedTime, passOver, playing, pointAt } from "../state/cursor.ts";
import "./time-cursor.css";

/** Below this the values stand under their panel, else beside its name. */
const ROOMY_PX = 560;

export interface TimeCursorProps {
	/** Its panels share one linear time axis. */
	readonly picture: Picture;
	readonly widthPx: number;
	readonly endSec: number;
	/** What the panels stand at, panel by panel. */
	readonly values: (timeSec: number) => readonly (readonly ValueAt[])[];
}

/** The instant that is pointed at, as a line over a picture of time; pointing, tapping and keys move it. The picture is not drawn anew. */
export function TimeCursor({ picture, widthPx, endSec, values }: TimeCursorProps) {
	const face = useRef<HTMLDivElement>(null);
	const line = useRef<HTMLDivElement>(null);
	const said = useRef<HTMLDivElement>(null);
	const { boxes } = useMemo(() => pictureLayout(picture, widthPx), [picture, widthPx]);
	const box = boxes[0]!;
	const last = boxes[boxes.length - 1]!;
	const scale = useMemo(() => panelScales(picture.panels[0]!, box).x, [picture, box]);
	const now = (): number => Math.max(0, Math.min(cursorSec.value ?? 0, endSec));
	const follow = (): void => {
		const timeSec = now();
		const still = !playing.value;
		if (line.current)
			line.current.style.transform = `translateX(${(scale.at(timeSec) - box.left).toFixed(1)}px)`;
		const rows = values(timeSec);
		const texts = [timeSec.toFixed(2), ...rows.flatMap((row) => row.map((each) => each.text))];
		const places = [
			line.current?.querySelector("[data-value]"),
			...(said.current?.querySelectorAll("[data-value]") ?? []),
		];
		places.forEach((place, i) => {
			if (place && place.textContent !== texts[i]) place.textContent = texts[i] ?? "";
		});
		// While it plays a reader of screens would be talked over.
		if (!face.current || !still) return;
		face.current.setAttribute("aria-valuenow", timeSec.toFixed(3));
		face.current.setAttribute("aria-valuetext", sentence(picture, timeSec, rows));
	};
	useSignalEffect(follow);
	useEffect(follow, [picture, widthPx, endSec, values]);
	const timeOf = (event: PointerEvent): number => {
		const { left, width } = (event.currentTarget as HTMLElement).getBoundingClientRect();
		const share = (event.clientX - left) / width;
		return Math.max(0, Math.min(endSec, scale.low + share * (scale.high - scale.low)));
	};
	const first = values(0);
	const under = widthPx < ROOMY_PX;
	return (
		<div class="time-cursor">
			<div
				ref={face}
				class="face"
				style={placed(box.left, box.top, box.width, last.top + last.height - box.top)}
				role="slider"
				tabIndex={0}
				aria-label={`Time cursor, ${picture.title}`}
				aria-orientation="horizontal"
				aria-valuemin={0}
				aria-valuemax={Number(endSec.toFixed(3))}
				aria-valuenow={0}
				onKeyDown={(event) => {
					if (event.ctrlKey || event.metaKey || event.altKey) return;
					const to = keyedTime(event.key, event.shiftKey, now(), endSec);
					if (to === null) return;
					event.preventDefault();
					pointAt(to);
				}}
				onPointerDown={(event) => {
					if (event.button !== 0 || event.pointerType === "touch") return;
					event.currentTarget.setPointerCapture(event.pointerId);
					pointAt(timeOf(event));
				}}
				// A finger that scrolls the page sends no more of these, and no 'up'.
				onPointerMove={(event) => {
					if (event.buttons > 0) pointAt(timeOf(event));
					// Where the page moves below a mouse at rest there is an event too: not meant by anyone.
					else if (event.movementX !== 0 || event.movementY !== 0) passOver(timeOf(event));
				}}
				onPointerUp={(event) => {
					if (event.pointerType === "touch") pointAt(timeOf(event));
				}}
			>
				<div ref={line} class="line">
					<span data-value />
				</div>
			</div>
			<div ref={said} class={under ? "said under" : "said"}>
				{boxes.map(({ left, top, width, height }, i) => (
					<p key={`${top}`} style={under ? placed(left, top + height + 20) : placed(left, top - 24, width)}>
						{first[i]?.map(({ of }, k) => (
							<span key={`${k}${of}`}>
								<b>{of}</b> <span data-value />
							</span>
						))}
					</p>
				))}
			</div>
		</div>
	);
}

const placed = (left: number, top: number, width?: number, height?: number) => ({
	left: `${left}px`,
	top: `${top}px`,
	...(width === undefined ? {} : { width: `${width}px` }),
	...(height === undefined ? {} : { height: `${height}px` }),
});

function sentence(picture: Picture, timeSec: number, rows: ReturnType<TimeCursorProps["values"]>): string {
	const panels = rows.map((row, i) => {
		const { label, unit } = picture.panels[i]!.y;
		return `${unit ? `${label}, ${unit}` : label}: ${row.map(({ of, text }) => `${of} ${text}`).join(", ")}`;
	});
	return [`${timeSec.toFixed(2)} seconds`, ...panels].join("; ");
}
