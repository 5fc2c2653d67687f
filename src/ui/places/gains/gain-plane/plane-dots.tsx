import { useEffect, useRef, useState } from "preact/hooks";
import type { NamedSet } from "../../../../pictures/looks.ts";
import { setLook } from "../../../../pictures/looks.ts";
import { colourOf, THEMES } from "../../../../pictures/theme.ts";
import { ghost } from "../../../state/ghost.ts";
import { theme } from "../../../state/theme.ts";
import { gainAt, type Side, shareOf } from "./ranges.ts";

/** Where the plotted area lies within its figure, pixels. */
export interface PlotBox {
	readonly left: number;
	readonly top: number;
	readonly width: number;
	readonly height: number;
}

interface DrawnAxis {
	readonly _offset: number;
	readonly _length: number;
}

/** What the plot says of its own scales; the same object where nothing moved. */
export function plotBox(element: HTMLElement, before: PlotBox | null): PlotBox | null {
	const layout = (element as unknown as { _fullLayout?: { xaxis?: DrawnAxis; yaxis?: DrawnAxis } })
		._fullLayout;
	const outer = element.closest(".plane")?.getBoundingClientRect();
	const inner = element.getBoundingClientRect();
	const { xaxis, yaxis } = layout ?? {};
	if (!xaxis || !yaxis || !outer) return before;
	const next: PlotBox = {
		left: inner.left - outer.left + xaxis._offset,
		top: inner.top - outer.top + yaxis._offset,
		width: xaxis._length,
		height: yaxis._length,
	};
	return JSON.stringify(next) === JSON.stringify(before) ? before : next;
}

interface Dot extends NamedSet {
	readonly set: string;
	readonly x: number;
	readonly y: number;
}

const STEP = 1 / 96;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, 1],
	ArrowDown: [0, -1],
};

/** Sets as lettered dots and the crosshair, over the plot, placed by its own scales. */
export function PlaneDots({
	box,
	x,
	y,
	dots,
	say,
	move,
	look,
}: {
	readonly box: PlotBox;
	readonly x: Side;
	readonly y: Side;
	readonly dots: readonly Dot[];
	/** Gains in words, internal units in. */
	readonly say: (x: number, y: number) => string;
	readonly move: (set: string, x: number, y: number, joins: string) => void;
	readonly look: (x: number, y: number) => void;
}) {
	const area = useRef<HTMLDivElement>(null);
	const drag = useRef<{ readonly set: string; readonly joins: string } | null>(null);
	const [cross, setCross] = useState<readonly [number, number]>([0.5, 0.5]);
	useEffect(() => {
		const letGo = (event: KeyboardEvent): void => {
			if (event.key === "Escape") ghost.value = null;
		};
		addEventListener("keydown", letGo);
		return () => removeEventListener("keydown", letGo);
	}, []);
	const shareAt = (event: PointerEvent | MouseEvent): readonly [number, number] => {
		const rect = area.current!.getBoundingClientRect();
		return [(event.clientX - rect.left) / rect.width, 1 - (event.clientY - rect.top) / rect.height];
	};
	const colours = THEMES[theme.value];
	const place = (shareX: number, shareY: number) => ({
		left: `${100 * Math.max(0, Math.min(1, shareX))}%`,
		top: `${100 * (1 - Math.max(0, Math.min(1, shareY)))}%`,
	});
	const stepped = (
		event: KeyboardEvent,
		shares: readonly [number, number],
	): readonly [number, number] | null => {
		const arrow = ARROWS[event.key];
		if (!arrow) return null;
		event.preventDefault();
		const size = STEP * (event.shiftKey ? 8 : 1);
		return [within(shares[0] + size * arrow[0]), within(shares[1] + size * arrow[1])];
	};
	return (
		// biome-ignore lint/a11y/useKeyWithClickEvents: the crosshair does the same by keyboard
		// biome-ignore lint/a11y/noStaticElementInteractions: the crosshair does the same by keyboard
		<div
			ref={area}
			class="plane-area"
			style={{
				left: `${box.left}px`,
				top: `${box.top}px`,
				width: `${box.width}px`,
				height: `${box.height}px`,
			}}
			onClick={(event) => {
				if (event.target !== event.currentTarget) return;
				const [sx, sy] = shareAt(event);
				setCross([sx, sy]);
				if (ghost.value) ghost.value = null;
				else look(gainAt(x, sx), gainAt(y, sy));
			}}
		>
			<button
				type="button"
				class={ghost.value ? "crosshair on" : "crosshair"}
				style={place(...cross)}
				aria-label={`Crosshair at ${say(gainAt(x, cross[0]), gainAt(y, cross[1]))}; Enter shows its answer`}
				onKeyDown={(event) => {
					const to = stepped(event, cross);
					if (to) setCross(to);
				}}
				onClick={() => look(gainAt(x, cross[0]), gainAt(y, cross[1]))}
			/>
			{dots.map((dot) => {
				const shares = [shareOf(x, dot.x), shareOf(y, dot.y)] as const;
				const outside = shares.some((share) => share < -1e-6 || share > 1 + 1e-6);
				return (
					<button
						key={dot.set}
						type="button"
						class={outside ? "dot outside" : "dot"}
						style={{ ...place(...shares), borderColor: colourOf(setLook(dot.letter), colours) }}
						aria-label={`${dot.name}: ${say(dot.x, dot.y)}${outside ? ", outside this plane" : ""}; arrow keys move it`}
						onPointerDown={(event) => {
							event.currentTarget.setPointerCapture(event.pointerId);
							drag.current = { set: dot.set, joins: `drag dot ${dot.set} ${event.timeStamp}` };
						}}
						onPointerMove={(event) => {
							if (!drag.current) return;
							const [sx, sy] = shareAt(event);
							move(drag.current.set, gainAt(x, sx), gainAt(y, sy), drag.current.joins);
						}}
						onPointerUp={() => {
							drag.current = null;
						}}
						onPointerCancel={() => {
							drag.current = null;
						}}
						onKeyDown={(event) => {
							const to = stepped(event, [within(shares[0]), within(shares[1])]);
							if (!to) return;
							// The gain that was not stepped keeps its figures.
							move(
								dot.set,
								to[0] === shares[0] ? dot.x : gainAt(x, to[0]),
								to[1] === shares[1] ? dot.y : gainAt(y, to[1]),
								`step dot ${dot.set}`,
							);
						}}
					>
						{dot.letter}
					</button>
				);
			})}
		</div>
	);
}

const within = (share: number): number => Math.max(0, Math.min(1, share));
