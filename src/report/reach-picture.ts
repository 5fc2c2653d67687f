import type { Picture } from "../pictures/picture.ts";
import { reachAndLoad } from "../pictures/reach-and-load.ts";
import type { ReachNumbers } from "./reach-json.ts";

export function reachPicture(
	json: ReachNumbers,
	about: {
		readonly craft: string;
		readonly invented: boolean;
		readonly link: string;
		readonly letter: string;
		readonly setName: string;
	},
): Picture {
	const diskOf = (at: number): (number | null)[] =>
		json.poses.map(({ loads }) => loads[at]?.diskPhaseDeg ?? null);
	return reachAndLoad({
		title: `${about.craft}: reach and load`,
		note: "Steady hover, margins frozen at each pose. A simulation is not evidence that a craft is safe.",
		invented: about.invented,
		letter: about.letter,
		setName: about.setName,
		link: about.link,
		angleDeg: json.poses.map(({ poseDeg }) => poseDeg[0]!),
		reachMm: json.poses.map(({ reachMm }) => reachMm),
		reserveGrams: json.poses.map(({ reserveGrams }) => reserveGrams),
		heaviestGrams: json.poses.map(({ heaviestGrams }) => heaviestGrams),
		statedGrams: json.statedLoadGrams,
		mostGrams: json.mostLoadGrams,
		bareDiskDeg: diskOf(0),
		loadedDiskDeg: json.statedLoadGrams > 0 ? diskOf(1) : [],
	});
}
