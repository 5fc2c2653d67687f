import { describe, expect, it } from "vitest";
import { resolveRotors } from "../../src/craft/layout.ts";
import { resolveMass } from "../../src/craft/mass-from-input.ts";
import { Notes } from "../../src/craft/notes.ts";

/** Mass, hub radius, roll, pitch and yaw inertia as printed; see scenarios/published-*.json for the full citations. */
const PUBLISHED = [
	["Bouabdallah, EPFL thesis 3727, 2007", 0.65, 0.23, 7.5e-3, 7.5e-3, 1.3e-2],
	["Luukkonen, Aalto University, 2011", 0.468, 0.225, 4.856e-3, 4.856e-3, 8.801e-3],
	["Lee, Leok, McClamroch, CDC 2010", 4.34, 0.315, 0.082, 0.0845, 0.1377],
] as const;

describe("inertia from mass and wheelbase: within 10 % in roll and pitch, 16 % in yaw", () => {
	it.each(PUBLISHED)("%s", (_, mass, radius, roll, pitch, yaw) => {
		const input = { mass, wheelbase: 2 * radius, layout: "plus", rotorHeight: 0 } as const;
		const notes = new Notes();
		const { inertiaKgM2: j } = resolveMass(input, resolveRotors(input, notes), notes);
		expect(Math.abs(j[0] / roll - 1)).toBeLessThan(0.1);
		expect(Math.abs(j[4] / pitch - 1)).toBeLessThan(0.1);
		expect(Math.abs(j[8] / yaw - 1)).toBeLessThan(0.16);
	});
});
