import { axis, DOTTED, INK, type PictureHead, setLook } from "./looks.ts";
import type { Picture } from "./picture.ts";

export interface ReachAndLoad extends PictureHead {
	/** Gain set whose margins are judged. */
	readonly letter: string;
	readonly setName: string;
	readonly link: string;
	/** First hinge from folded, rising or falling. */
	readonly angleDeg: readonly number[];
	/** From the craft's middle, mm. */
	readonly reachMm: readonly number[];
	/** Heaviest load by reserve of motors and servos, and with the margins too; null where nothing holds. */
	readonly reserveGrams: readonly (number | null)[];
	readonly heaviestGrams: readonly (number | null)[];
	readonly statedGrams: number;
	readonly mostGrams: number;
	/** Phase that all axes may lose together, without a load and with the stated one. */
	readonly bareDiskDeg: readonly (number | null)[];
	readonly loadedDiskDeg: readonly (number | null)[];
}

const curve = (x: readonly number[], y: readonly (number | null)[]) => {
	const kept = x.flatMap((at, i) => (y[i] === null ? [] : [[at, y[i]!] as const]));
	return { x: kept.map(([at]) => at), y: kept.map(([, v]) => v) };
};

/** How heavy a load may be at each pose, how far that pose reaches, and what margin is left. */
export function reachAndLoad(input: ReachAndLoad): Picture {
	const { angleDeg: x, statedGrams } = input;
	const look = setLook(input.letter);
	const heaviest = curve(x, input.heaviestGrams);
	const angle = axis(`${input.link}, from folded`, "deg");
	const stated =
		statedGrams > 0
			? [
					{
						kind: "horizontal" as const,
						y: statedGrams,
						text: `meant to carry ${statedGrams.toFixed(0)} g`,
						look: DOTTED,
					},
				]
			: [];
	const loaded = curve(x, input.loadedDiskDeg);
	return {
		title: input.title,
		description: `Heaviest load over the angle of '${input.link}' with ${input.setName}, how far the grip then reaches, and the phase that roll, pitch and yaw may lose together.`,
		note: input.note ?? "",
		invented: input.invented,
		panels: [
			{
				x: angle,
				y: axis("load", "g", { range: [0, 1.05 * Math.max(input.mostGrams, statedGrams)] }),
				equalScales: false,
				weight: 2,
				series: [
					{ name: "motors and servos", ...curve(x, input.reserveGrams), look: INK },
					{ name: `and margins of set ${input.letter}`, ...heaviest, look },
				],
				marks: [
					...stated,
					...(heaviest.x.length > 1
						? [
								{
									kind: "region" as const,
									x: [...heaviest.x, heaviest.x[heaviest.x.length - 1]!, heaviest.x[0]!],
									y: [...heaviest.y, 0, 0],
									text: "",
									look,
								},
							]
						: []),
				],
				field: null,
			},
			{
				x: angle,
				y: axis("reach of the grip", "mm"),
				equalScales: false,
				weight: 1.4,
				series: [{ name: "reach", x, y: input.reachMm, look: INK }],
				marks: [],
				field: null,
			},
			{
				x: angle,
				y: axis("phase all axes may lose", "deg"),
				equalScales: false,
				weight: 1.4,
				series: [
					{ name: "without load", ...curve(x, input.bareDiskDeg), look: INK },
					...(loaded.x.length > 0 ? [{ name: "with the load", ...loaded, look }] : []),
				],
				marks: [],
				field: null,
			},
		],
		legend: [
			{ text: "motors, servos; without load", look: INK },
			{ text: `with margins of set ${input.letter}; with load`, look },
		],
	};
}
