import type { Vec3 } from "../math/types.ts";

/** 'front right', by where a foot is. */
export const placeWords = ([x, y]: Vec3): string =>
	`${Math.abs(x) < 1e-6 ? "" : x > 0 ? "front" : "rear"} ${Math.abs(y) < 1e-6 ? "" : y > 0 ? "right" : "left"}`.trim() ||
	"middle";

/** What touched last, as bits: 'the front right and rear right feet', 'the front left foot and the load'. */
export function aboutWords(feet: readonly Vec3[], bits: number, nameOf: (contact: number) => string): string {
	const standing = feet.filter((_, i) => (bits >> i) & 1).map(placeWords);
	const others = new Set<string>();
	for (let i = feet.length; i < 31; i++) if ((bits >> i) & 1) others.add(`the ${nameOf(i)}`);
	const names = [...others];
	if (standing.length > 0)
		names.unshift(`the ${standing.join(" and ")} ${standing.length === 1 ? "foot" : "feet"}`);
	return names.join(" and ");
}
