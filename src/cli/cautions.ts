import { type Paint, paragraph } from "./text.ts";

/** In plain words, with every answer that leads to a spinning propeller. */
export const CAUTIONS: readonly string[] = [
	"Propellers off for every bench check. First spin-up restrained or far away; eyes protected, nobody near.",
	"Try the kill switch and what happens on signal loss before anything else. Lithium batteries burn: charge and store them so.",
	"Secure the load. Gains judged on a pivot or string rig mislead: the rig changes inertia and adds stiffness.",
	"Local aviation rules and licensed practice come first. A simulation is not evidence that a craft is safe.",
];

export function cautionsText(paint: Paint, width: number): string {
	return `${paint.bold("Cautions")}\n${CAUTIONS.map((each) => paragraph(`- ${each}`, width, 2)).join("")}`;
}
