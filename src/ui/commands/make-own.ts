import type { Command } from "../state/model.ts";
import { openDocument } from "./open-document.ts";

/** The seven numbers, as typed with their units. */
export interface SevenNumbers {
	readonly mass: string;
	readonly wheelbase: string;
	readonly propeller: string;
	readonly maxThrust: string;
	readonly motorLag: string;
	readonly loop: string;
	readonly cells: number;
}

/** A craft of one's own from seven numbers; everything else is assumed, and says so. The demo is one undo away. */
export function makeOwn(numbers: SevenNumbers): Command {
	const document = {
		levelhead: 2,
		name: "my craft",
		craft: {
			name: "my craft",
			mass: numbers.mass,
			wheelbase: numbers.wheelbase,
			propeller: { diameter: numbers.propeller },
			motors: { maxThrust: numbers.maxThrust, lag: numbers.motorLag },
			battery: { cells: numbers.cells },
			timing: { loop: numbers.loop },
		},
		gainSets: [],
	};
	return { ...openDocument(document, "my craft"), name: "my craft from seven numbers" };
}
