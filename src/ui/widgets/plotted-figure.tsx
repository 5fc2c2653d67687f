import type { RefObject } from "preact";
import { useId } from "preact/hooks";
import type { Picture } from "../../pictures/picture.ts";
import { PictureLegend } from "./picture-legend.tsx";
import { PictureNumbers } from "./picture-numbers.tsx";
import { SavePicture } from "./save-picture.tsx";
import "./plotted.css";

export interface PlottedFigureProps {
	readonly picture: Picture;
	readonly heightPx: number;
	readonly stale: boolean;
	/** The element that a chart library draws into. */
	readonly box: RefObject<HTMLDivElement | null>;
	/** The library does not draw 'Invented craft' itself: the words are laid over its drawing, which is then hidden from readers. The note says them too, to be read. */
	readonly wordsOver?: boolean;
	/** Something else stands in for the drawing at the moment. */
	readonly away?: boolean;
}

/** What stands around a chart library's drawing: title, description, legend, note, and the ways to save it. */
export function PlottedFigure({
	picture,
	heightPx,
	stale,
	box,
	wordsOver = false,
	away = false,
}: PlottedFigureProps) {
	const numbers = `${useId()}numbers`;
	return (
		<div class="pictured">
			<figure
				class={stale ? "picture plotted stale" : "picture plotted"}
				hidden={away}
				aria-busy={stale}
				aria-details={numbers}
				style={{ height: `${heightPx}px` }}
			>
				<figcaption>
					<h3>{picture.title}</h3>
					<p class="visually-hidden">{picture.description}</p>
					<PictureLegend entries={picture.legend} />
				</figcaption>
				<div
					ref={box}
					class={wordsOver && picture.invented ? "plot invented" : "plot"}
					aria-hidden={wordsOver ? "true" : undefined}
				/>
				{picture.note || picture.invented ? (
					<p class="quiet note">
						{picture.invented ? "Invented craft. " : ""}
						{picture.note}
					</p>
				) : null}
			</figure>
			<SavePicture picture={picture} />
			<PictureNumbers picture={picture} id={numbers} />
		</div>
	);
}
