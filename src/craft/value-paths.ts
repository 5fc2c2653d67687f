import { formatQuantity } from "../units/format.ts";
import type { CraftInput } from "./input.ts";
import type { OddValue } from "./notes.ts";

/** What else a file may give in the place of a value, first what counts first. */
const STANDS_IN: { readonly [path: string]: readonly string[] } = {
	"craft.mass": ["craft.parts"],
	"craft.centreOfMass": ["craft.parts"],
	"craft.inertia": ["craft.parts"],
	"craft.wheelbase": ["craft.rotors"],
	"craft.frontRightSpin": ["craft.rotors"],
	"craft.rotors": ["craft.wheelbase"],
	"craft.motors.maxThrust": ["craft.motors.bench", "craft.motors.maxSpeed"],
	"craft.motors.lagUp": ["craft.motors.lag"],
};

/** The path under which the file gives what stands at `path`; `path` itself where it gives none of them. */
export function pathInFile(path: string, input: CraftInput): string {
	return [path, ...(STANDS_IN[path] ?? [])].find((each) => isGiven(each, input)) ?? path;
}

function isGiven(path: string, input: CraftInput): boolean {
	let value: unknown = input;
	for (const key of path.split(".").slice(1))
		value = (value as { [key: string]: unknown } | undefined)?.[key];
	return value !== undefined;
}

/** Values of the file that another of its values makes idle, each with the one that counts. */
export function idleValues(input: CraftInput): OddValue[] {
	const { rotors, motors = {} } = input;
	const idle: OddValue[] = [];
	if (motors.lag !== undefined && motors.lagUp !== undefined && motors.lag !== motors.lagUp)
		idle.push({
			path: "craft.motors.lag",
			sentence: `${formatQuantity("time", motors.lag)} counts for nothing, since lagUp says ${formatQuantity("time", motors.lagUp)}`,
		});
	if (rotors !== undefined)
		for (const key of ["wheelbase", "layout", "frontRightSpin", "rotorHeight", "motorNumbers"] as const) {
			const value = input[key];
			if (value === undefined) continue;
			const shown = typeof value === "number" ? formatQuantity("length", value) : JSON.stringify(value);
			idle.push({
				path: `craft.${key}`,
				sentence: `${shown} counts for nothing, since craft.rotors lists ${rotors.length} rotors one by one`,
			});
		}
	return idle;
}
