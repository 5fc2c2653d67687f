import { CAUTIONS } from "../report/cautions.ts";
import { type Paint, paragraph } from "./text.ts";

export function cautionsText(paint: Paint, width: number): string {
	return `${paint.bold("Cautions")}\n${CAUTIONS.map((each) => paragraph(`- ${each}`, width, 2)).join("")}`;
}
