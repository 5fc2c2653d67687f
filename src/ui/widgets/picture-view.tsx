import { useEffect, useId, useRef, useState } from "preact/hooks";
import type { Picture } from "../../pictures/picture.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { theme } from "../state/theme.ts";
import { SavePicture } from "./save-picture.tsx";

export interface PictureViewProps {
	readonly picture: Picture;
	readonly heightPx?: number;
	/** The picture belongs to an earlier question; the new answer is under way. */
	readonly stale?: boolean;
}

/** A neutral picture as SVG, as wide as its place. */
export function PictureView(props: PictureViewProps) {
	return (
		<>
			<BarePicture {...props} />
			<SavePicture picture={props.picture} />
		</>
	);
}

/** The same without the ways to save it. */
export function BarePicture({ picture, heightPx, stale = false }: PictureViewProps) {
	const box = useRef<HTMLDivElement>(null);
	const idPrefix = useId();
	const width = useWidth(box);
	const options = {
		theme: theme.value,
		widthPx: width,
		idPrefix,
		paper: false,
		...(heightPx ? { heightPx } : {}),
	};
	return (
		<div
			ref={box}
			class={stale ? "picture stale" : "picture"}
			aria-busy={stale}
			// Made by pictureSvg, which escapes every text it is given.
			dangerouslySetInnerHTML={{ __html: width > 0 ? pictureSvg(picture, options) : "" }}
		/>
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
