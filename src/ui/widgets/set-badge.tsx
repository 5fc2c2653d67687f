import type { NamedSet } from "../../pictures/looks.ts";
import { setLook } from "../../pictures/looks.ts";
import { strokeOf, THEMES } from "../../pictures/theme.ts";
import { theme } from "../state/theme.ts";

/** A set's letter, colour and dash, as pictures draw it. */
export function SetBadge({ letter }: NamedSet) {
	const drawn = strokeOf(setLook(letter), THEMES[theme.value]);
	const stroke = String(drawn["stroke"]);
	return (
		<svg class="badge" viewBox="0 0 44 18" width="44" height="18" aria-hidden="true">
			<line
				x1="0"
				y1="9"
				x2="24"
				y2="9"
				stroke={stroke}
				stroke-width="2"
				stroke-dasharray={String(drawn["stroke-dasharray"] ?? "")}
			/>
			<circle cx="34" cy="9" r="8" fill="none" stroke={stroke} stroke-width="1.5" />
			<text x="34" y="13" text-anchor="middle" font-size="11" font-weight="700" fill="currentColor">
				{letter}
			</text>
		</svg>
	);
}
