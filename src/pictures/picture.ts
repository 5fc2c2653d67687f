/**
 * A picture as plain data: what is drawn, not how. The page and the SVG writer draw the same description. A picture has
 * one or more panels, one above the other.
 */
export interface Picture {
	readonly title: string;
	/** One sentence that says what is seen, for those who do not see it. */
	readonly description: string;
	/** Small print under the picture; empty for none. */
	readonly note: string;
	/** True: 'Invented craft' stands across the picture. */
	readonly invented: boolean;
	readonly panels: readonly Panel[];
	readonly legend: readonly LegendEntry[];
	/** What the engine found about what is seen: read in a table, not drawn. */
	readonly numbers?: readonly KeyNumber[];
}

export interface KeyNumber {
	readonly what: string;
	/** Letter of the gain set; '' for what belongs to none. */
	readonly of: string;
	readonly value: number | null;
	readonly unit: string;
	/** Where it is read, such as '2.3 Hz'; of a missing value why there is none; else empty. */
	readonly where: string;
}

export interface Panel {
	readonly x: Axis;
	readonly y: Axis;
	/** One length on both axes, for polar pictures. */
	readonly equalScales: boolean;
	/** Share of the height among panels. */
	readonly weight: number;
	readonly series: readonly Series[];
	readonly marks: readonly Mark[];
	readonly field: Field | null;
}

export interface Axis {
	readonly label: string;
	/** Shown behind the label; empty for a pure number. */
	readonly unit: string;
	readonly scale: "linear" | "log";
	/** Null: from the data. */
	readonly range: readonly [number, number] | null;
	/** Ticks at multiples of this; null: chosen. */
	readonly tickStep: number | null;
}

/** Colour, dash and letter of a gain set follow from `letter`; '' is drawn in ink. A faint one stands behind. */
export interface Look {
	readonly letter: string;
	readonly weight: "strong" | "plain" | "faint";
	readonly dash: "set" | "solid" | "dotted";
}

export interface Series {
	readonly name: string;
	readonly x: ArrayLike<number>;
	readonly y: ArrayLike<number>;
	readonly look: Look;
}

export type Mark =
	| {
			readonly kind: "point";
			readonly x: number;
			readonly y: number;
			readonly text: string;
			readonly look: Look;
	  }
	| { readonly kind: "vertical"; readonly x: number; readonly text: string; readonly look: Look }
	| { readonly kind: "horizontal"; readonly y: number; readonly text: string; readonly look: Look }
	/** A straight stretch, such as a margin. */
	| {
			readonly kind: "span";
			readonly from: readonly [number, number];
			readonly to: readonly [number, number];
			readonly text: string;
			readonly look: Look;
	  }
	| { readonly kind: "text"; readonly x: number; readonly y: number; readonly text: string }
	/** The craft at an instant, of one size on the page whatever the axes: turned by what it is and, thinly, by what was asked of it. */
	| {
			readonly kind: "silhouette";
			readonly x: number;
			readonly y: number;
			readonly view: SilhouetteView;
			readonly angleRad: number;
			readonly askedRad: number | null;
			/** Rotors are turning. */
			readonly live: boolean;
			readonly text: string;
			readonly look: Look;
	  }
	/** A closed outline, faintly filled. */
	| {
			readonly kind: "region";
			readonly x: ArrayLike<number>;
			readonly y: ArrayLike<number>;
			readonly text: string;
			readonly look: Look;
	  };

/** From behind: roll, right side down is clockwise. From its right side, nose to the right: pitch. From above, nose up the page: yaw. */
export type SilhouetteView = "behind" | "right" | "above";

/** Values over a grid, row by row, y rising with the row. Not finite: no answer there, left blank. */
export interface Field {
	readonly x: ArrayLike<number>;
	readonly y: ArrayLike<number>;
	readonly values: ArrayLike<number>;
	readonly label: string;
	readonly unit: string;
	/** Drawn as an outline where the values cross it: the edge of what is stable. */
	readonly outline: number | null;
	/** Over the same grid: the outline is drawn where these cross it, not the shaded values. */
	readonly edge?: ArrayLike<number>;
}

export interface LegendEntry {
	readonly text: string;
	readonly look: Look;
}
