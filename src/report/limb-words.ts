import type { Craft, OperatingPoint } from "../craft/model.ts";
import { loadsAt } from "../physics/plant-at.ts";
import { formatQuantity } from "../units/format.ts";
import type { LimbNow } from "./limb-now.ts";

/** 'boom 150 deg, scoop -150 deg', or 'folded'. */
export function poseWords({ limb }: Craft, { limbRad }: OperatingPoint): string {
	if (!limb || !limbRad) return "folded";
	return limb.links.map(({ name }, i) => `${name} ${angle(limbRad[i]!)}`).join(", ");
}

/** '300 g in the grip', 'no load'. */
export function loadWords(craft: Craft, point: OperatingPoint): string {
	const loads = loadsAt(craft, point);
	if (loads.length === 0) return "no load";
	const mass = formatQuantity(
		"mass",
		loads.reduce((sum, { massKg }) => sum + massKg, 0),
	);
	const where = loads.some(({ inGrip }) => inGrip) ? " in the grip" : "";
	const hangs = craft.load.tether ? " on a tether" : "";
	return `${mass}${where}${hangs}`;
}

/** How far the limb stays from propellers. */
export function nearestWords({ clearance: { of, metres, rotor } }: LimbNow): string {
	return `Nearest to a propeller: '${of}', ${formatQuantity("length", Math.max(0, metres), 2)} from the ${rotor} disc.`;
}

/** What the servos hold against their limits; the hardest first. */
export function servoWords({ links }: LimbNow): string {
	const held = links
		.flatMap(({ name, torqueNm, limitNm }) =>
			torqueNm === null
				? []
				: [{ name, torqueNm: Math.abs(torqueNm), limitNm, share: Math.abs(torqueNm) / limitNm }],
		)
		.sort((a, b) => b.share - a.share);
	if (held.length === 0) return "It cannot hover here, so what the servos would hold is not known.";
	const said = held.map(
		({ name, torqueNm, limitNm, share }) =>
			`'${name}' ${torqueNm.toFixed(2)} of its ${limitNm.toFixed(2)} N m (${(100 * share).toFixed(0)} %)`,
	);
	const cannot = held.filter(({ share }) => share > 1).map(({ name }) => `'${name}'`);
	return `To hold still the servos give: ${said.join(", ")}${cannot.length > 0 ? `: ${cannot.join(" and ")} cannot hold it` : ""}.`;
}

/** Whole degrees, with a true minus. */
const angle = (radians: number): string =>
	`${((radians * 180) / Math.PI).toFixed(0).replace("-", "\u2212")}\u00b0`;
