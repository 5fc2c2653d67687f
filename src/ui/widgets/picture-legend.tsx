import type { LegendEntry } from "../../pictures/picture.ts";
import { strokeOf, THEMES } from "../../pictures/theme.ts";
import { theme } from "../state/theme.ts";

/** What the lines of a picture are, with samples of them. */
export function PictureLegend({ entries }: { readonly entries: readonly LegendEntry[] }) {
	if (entries.length === 0) return null;
	return (
		<ul class="legend">
			{entries.map(({ text, look }) => (
				<li key={text}>
					<svg viewBox="0 0 30 10" width="30" height="10" aria-hidden="true">
						<line x1="0" y1="5" x2="30" y2="5" {...strokeOf(look, THEMES[theme.value])} />
					</svg>
					{look.letter && look.weight === "strong" && text !== `set ${look.letter}` ? (
						<b>{look.letter}</b>
					) : null}
					{text}
				</li>
			))}
		</ul>
	);
}
