import type { ComponentChildren } from "preact";
import { useEffect, useId, useMemo, useRef, useState } from "preact/hooks";
import type { Picture } from "../../pictures/picture.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { theme } from "../state/theme.ts";
import { PictureNumbers } from "./picture-numbers.tsx";
import { SavePicture } from "./save-picture.tsx";

export interface PictureViewProps {
	readonly picture: Picture;
	readonly heightPx?: number;
	/** The picture belongs to an earlier question; the new answer is under way. */
	readonly stale?: boolean;
	/** What lies over the drawing, of the width it has. */
	readonly over?: (widthPx: number) => ComponentChildren;
}

/** A neutral picture as SVG, as wide as its place. */
export function PictureView({ picture, heightPx, stale = false, over }: PictureViewProps) {
	const box = useRef<HTMLDivElement>(null);
	const idPrefix = useId();
	const width = useWidth(box);
	const numbers = `${idPrefix}numbers`;
	const colours = theme.value;
	const svg = useMemo(
		() =>
			width > 0
				? pictureSvg(picture, {
						theme: colours,
						widthPx: width,
						idPrefix,
						paper: false,
						...(heightPx ? { heightPx } : {}),
					})
				: "",
		[picture, colours, width, idPrefix, heightPx],
	);
	return (
		<div class="pictured">
			<div class="picture-box">
				<div
					ref={box}
					class={stale ? "picture stale" : "picture"}
					aria-busy={stale}
					aria-details={numbers}
					// Made by pictureSvg, which escapes every text it is given.
					dangerouslySetInnerHTML={{ __html: svg }}
				/>
				{width > 0 ? over?.(width) : null}
			</div>
			<SavePicture picture={picture} />
			<PictureNumbers picture={picture} id={numbers} />
		</div>
	);
}

function useWidth(box: { readonly current: HTMLElement | null }): number {
	const [width, setWidth] = useState(0);
	useEffect(() => {
		const element = box.current;
		if (!element) return undefined;
		const observer = new ResizeObserver(([entry]) => {
			if (entry) setWidth(Math.round(entry.contentRect.width));
		});
		observer.observe(element);
		return () => observer.disconnect();
	}, [box]);
	return width;
}
