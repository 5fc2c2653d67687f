import type { LoadInput } from "./input.ts";
import type { Slosh, Tether } from "./limb-model.ts";
import { COMMON, type Notes } from "./notes.ts";

/** First root of J1'(x) = 0. */
const XI = 1.841183781340659;

/**
 * First sideways slosh of a liquid in an upright round tank of radius a, filled to h, as a pendulum (Abramson, The Dynamic Behavior of Liquids in Moving
 * Containers, NASA SP-106, 1966, from memory): with t = tanh(xi h/a), xi = 1.8412, length a/(xi t), share of the mass 2 t a/(xi h (xi^2 - 1)).
 */
export function sloshPendulum(radiusM: number, depthM: number): { lengthM: number; share: number } {
	const t = Math.tanh((XI * depthM) / radiusM);
	return { lengthM: radiusM / (XI * t), share: (2 * t * radiusM) / (XI * depthM * (XI * XI - 1)) };
}

export function resolveSwing(load: LoadInput, notes: Notes): { tether?: Tether; liquid?: Slosh } {
	const damping = (given: number | undefined, path: string, value: number, because: string): number =>
		notes.assume(given, "fraction", {
			path,
			value,
			because,
			source: COMMON,
			measure: "let it swing and count the swings until half is left: damping ratio = 0.11 / swings",
		});
	const { tether, liquid } = load;
	if (tether && liquid) {
		notes.problem("craft.load.liquid", liquid, "a load on a tether or a liquid, not both");
		return {};
	}
	if (tether)
		return {
			tether: {
				lengthM: tether.length,
				dampingRatio: damping(tether.damping, "craft.load.tether.damping", 0.01, "a cord swings long"),
			},
		};
	if (!liquid) return {};
	const byTank =
		liquid.diameter !== undefined && liquid.depth !== undefined
			? sloshPendulum(liquid.diameter / 2, liquid.depth)
			: null;
	const share = liquid.share ?? byTank?.share;
	const lengthM = liquid.pendulum ?? byTank?.lengthM;
	if (share === undefined || lengthM === undefined) {
		notes.problem(
			"craft.load.liquid",
			liquid,
			"diameter and depth of the liquid in its round tank, or the share that sloshes and its pendulum's length",
		);
		return {};
	}
	return {
		liquid: {
			share,
			lengthM,
			dampingRatio: damping(
				liquid.damping,
				"craft.load.liquid.damping",
				0.02,
				"a smooth tank without baffles",
			),
		},
	};
}
