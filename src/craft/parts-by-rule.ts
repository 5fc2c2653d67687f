import type { Vec3 } from "../math/types.ts";
import * as vec3 from "../math/vec3.ts";
import type { PartInput } from "./input.ts";
import type { Rotor } from "./model.ts";

/**
 * What a craft is taken to be made of while only its mass and its rotors' places are known: 30 % of the mass as points at the rotors (motors,
 * propellers), 10 % along the rods from the middle to them, 60 % a central box with sides 0.6 and height 0.5 of the mean rotor radius. Against
 * the published quads of Bouabdallah (2007), Luukkonen (2011) and Lee (2010) the inertia is 10 % low to 4 % high in roll and 2 % low to 16 %
 * high in yaw (tests/reference/inertia-rule.test.ts).
 */
export function partsByRule(massKg: number, rotors: readonly Rotor[]): readonly PartInput[] {
	const hubs = rotors.map((rotor) => rotor.positionM);
	const middle = vec3.scale(
		hubs.reduce<Vec3>((sum, hub) => vec3.add(sum, hub), [0, 0, 0]),
		1 / hubs.length,
	);
	const radius = hubs.reduce((sum, hub) => sum + vec3.length(vec3.subtract(hub, middle)), 0) / hubs.length;
	return [
		{
			name: "body and battery",
			shape: "box",
			mass: 0.6 * massKg,
			size: [0.6 * radius, 0.6 * radius, 0.5 * radius],
			position: middle,
		},
		{ name: "motor with propeller", shape: "point", mass: (0.3 * massKg) / hubs.length, at: hubs },
		...rotors.map(({ place, positionM }): PartInput => {
			const [x, y] = vec3.subtract(positionM, middle);
			return {
				name: `rod ${place}`,
				shape: "rod",
				mass: (0.1 * massKg) / hubs.length,
				length: Math.hypot(x, y),
				position: vec3.scale(vec3.add(positionM, middle), 0.5),
				orientation: [0, 0, Math.atan2(y, x)],
			};
		}),
	];
}
