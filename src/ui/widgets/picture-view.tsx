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
export function PictureView(props: PictureViewProps) {
	const numbers = `${useId()}numbers`;
	return (
		<div class="pictured">
			<BarePicture {...props} details={numbers} />
			<SavePicture picture={props.picture} />
			<PictureNumbers picture={props.picture} id={numbers} />
		</div>
	);
}

/** The same without the ways to save and to read it; `details`: where its numbers stand. */
export function BarePicture({
	picture,
	heightPx,
	stale = false,
	over,
	details,
}: PictureViewProps & { readonly details?: string }) {
	const box = useRef<HTMLDivElement>(null);
	const idPrefix = useId();
	const width = useWidth(box);
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
		<div class="picture-box">
			<div
				ref={box}
				class={stale ? "picture stale" : "picture"}
				aria-busy={stale}
				aria-details={details}
				// Made by pictureSvg, which escapes every text it is given.
				dangerouslySetInnerHTML={{ __html: svg }}
			/>
			{width > 0 ? over?.(width) : null}
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
