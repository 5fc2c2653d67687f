import type { ReachNumbers } from "./reach-json.ts";

/** What the reach table comes to, one or two sentences with their numbers. */
export function reachSentence(json: ReachNumbers, link: string): string {
	const { poses, farthest, statedLoadGrams } = json;
	const load = statedLoadGrams > 0 ? `the ${statedLoadGrams.toFixed(0)} g it is meant to carry` : "no load";
	const heaviest = poses.reduce((best, pose) =>
		(pose.heaviestGrams ?? -1) > (best.heaviestGrams ?? -1) ? pose : best,
	);
	const most =
		heaviest.heaviestGrams === null
			? "No pose bears any load within the limits."
			: `Most at '${link}' ${heaviest.poseDeg[0]!.toFixed(0)} deg: ${heaviest.heaviestGrams.toFixed(0)} g.`;
	if (!farthest) {
		const first = poses[0]!;
		return `With ${load} it must not even hover folded: ${first.stops}. ${most}`;
	}
	const next = poses[poses.findIndex((pose) => pose.poseDeg[0] === farthest.poseDeg[0]) + 1];
	const beyond = next
		? `; the next pose, ${next.poseDeg[0]!.toFixed(0)} deg, bears ${(next.heaviestGrams ?? 0).toFixed(0)} g: ${next.stops}`
		: ", the end of its travel";
	return `With ${load} '${link}' may go from folded to ${farthest.poseDeg[0]!.toFixed(0)} deg, where the grip is ${farthest.reachMm.toFixed(0)} mm from the middle${beyond}. ${most}`;
}
