import type { Vec3 } from "../math/types.ts";
import type { CraftInput, LayoutWord, RotorInput } from "./input.ts";
import type { Rotor } from "./model.ts";
import type { Notes } from "./notes.ts";
import { COMMON } from "./notes.ts";

/** Rotors by layout word: names and bearings (degrees clockwise from the nose), clockwise round from the front right. */
const LAYOUTS: Readonly<Record<LayoutWord, readonly (readonly [string, number])[]>> = {
	X: [
		["front right", 45],
		["rear right", 135],
		["rear left", 225],
		["front left", 315],
	],
	plus: [
		["front", 0],
		["right", 90],
		["rear", 180],
		["left", 270],
	],
	hex: [
		["front right", 30],
		["right", 90],
		["rear right", 150],
		["rear left", 210],
		["left", 270],
		["front left", 330],
	],
	"hex plus": [
		["front", 0],
		["front right", 60],
		["rear right", 120],
		["rear", 180],
		["rear left", 240],
		["front left", 300],
	],
	octo: [
		["front right", 22.5],
		["right front", 67.5],
		["right rear", 112.5],
		["rear right", 157.5],
		["rear left", 202.5],
		["left rear", 247.5],
		["left front", 292.5],
		["front left", 337.5],
	],
	"octo plus": [
		["front", 0],
		["front right", 45],
		["right", 90],
		["rear right", 135],
		["rear", 180],
		["rear left", 225],
		["left", 270],
		["front left", 315],
	],
};

/** The thrust axis: up, tilted `forward` (towards the nose) and `right`. */
function thrustAxis(forward: number, right: number): Vec3 {
	const x = Math.tan(forward);
	const y = Math.tan(right);
	const size = Math.hypot(x, y, 1);
	return [x / size, y / size, -1 / size];
}

/**
 * Rotors as given, or from the layout word (default X) and the wheelbase (hub to hub across the centre). Neighbours turn
 * against each other, so in a quad each diagonal pair shares a spin.
 */
export function resolveRotors(input: CraftInput, notes: Notes): readonly Rotor[] {
	const rotors = input.rotors === undefined ? fromLayout(input, notes) : given(input.rotors);
	const numbers = new Set<number>();
	const places = new Set<string>();
	rotors.forEach((rotor, i) => {
		if (places.has(rotor.place))
			notes.problem(`craft.rotors[${i}].place`, rotor.place, "a place that no other rotor has");
		places.add(rotor.place);
		const path = input.rotors === undefined ? `craft.motorNumbers[${i}]` : `craft.rotors[${i}].motor`;
		if (numbers.has(rotor.motorNumber))
			notes.problem(path, rotor.motorNumber, "a number that no other motor has");
		numbers.add(rotor.motorNumber);
	});
	return rotors;
}

function given(rotors: readonly RotorInput[]): Rotor[] {
	return rotors.map((r, i) => ({
		place: r.place,
		motorNumber: r.motor ?? i + 1,
		positionM: r.position,
		axis: thrustAxis(r.tiltForward ?? 0, r.tiltRight ?? 0),
		spin: r.spin === "clockwise" ? 1 : -1,
		speedFactor: r.speedFactor ?? 1,
	}));
}

function fromLayout(input: CraftInput, notes: Notes): Rotor[] {
	const wheelbase = input.wheelbase;
	if (wheelbase === undefined) {
		notes.problem(
			"craft.wheelbase",
			undefined,
			'the distance between opposite hubs such as "450 mm", or a list of rotors',
		);
		return [];
	}
	const layout = notes.assumeWord<LayoutWord>(input.layout, "X", {
		path: "craft.layout",
		value: "X: four rotors, two in front",
		because: "a wheelbase alone does not say how many rotors there are",
		source: COMMON,
		measure: "count them; write 'plus', 'hex' or 'octo', or list the rotors",
	});
	const places = LAYOUTS[layout];
	const firstSpin = notes.assumeWord(input.frontRightSpin, "counter-clockwise" as const, {
		path: "craft.frontRightSpin",
		value: `${places[0]![0]} counter-clockwise seen from above, neighbours against each other`,
		because: "yaw works the wrong way round where the spins are swapped",
		source: COMMON,
		measure: "propellers off: start each motor alone and look from above",
	});
	const z = notes.assume(input.rotorHeight, "length", {
		path: "craft.rotorHeight",
		value: 0.04 * wheelbase,
		because: "rotors usually stand a little above the frame's middle (0.04 of the wheelbase)",
		source: COMMON,
		measure: "a ruler, from the reference point up to the propellers' plane",
	});
	if (input.motorNumbers !== undefined && input.motorNumbers.length !== places.length)
		notes.problem(
			"craft.motorNumbers",
			input.motorNumbers,
			`${places.length} numbers, one per rotor: ${places.map(([place]) => place).join(", ")}`,
		);
	const sign = firstSpin === "clockwise" ? 1 : -1;
	return places.map(([place, bearingDeg], i) => {
		const bearing = (bearingDeg * Math.PI) / 180;
		// Picometres: so that mirrored rotors mirror exactly.
		const clean = (v: number): number => Math.round(v * 1e12) / 1e12 + 0;
		return {
			place,
			motorNumber: input.motorNumbers?.[i] ?? i + 1,
			positionM: [
				clean((wheelbase / 2) * Math.cos(bearing)),
				clean((wheelbase / 2) * Math.sin(bearing)),
				z === 0 ? 0 : -z,
			] as const,
			axis: [0, 0, -1] as const,
			spin: (i % 2 === 0 ? sign : -sign) as 1 | -1,
			speedFactor: 1,
		};
	});
}
