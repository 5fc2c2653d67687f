import type { AxisName, GainSet } from "../../../control/spec.ts";
import type { GainKey } from "../../commands/set-gain.ts";

type Point = readonly [number, number];

/** Where the pieces of the drawn loop stand, in units of the drawing. */
export interface LoopLayout {
	readonly width: number;
	readonly height: number;
	readonly wires: readonly (readonly Point[])[];
	readonly sums: readonly { readonly at: Point; readonly minus: Point }[];
	readonly boxes: readonly { readonly at: Point; readonly size: Point; readonly text: string }[];
	readonly texts: readonly {
		readonly at: Point;
		readonly text: string;
		readonly anchor: "start" | "middle" | "end";
	}[];
	readonly gains: readonly { readonly at: Point; readonly gain: GainKey; readonly label: string }[];
}

const deg = (rad: number): string => String(Number(((rad * 180) / Math.PI).toPrecision(3)));
const percent = (share: number): string => String(Number((100 * share).toPrecision(3)));

interface Words {
	readonly hasAngleLoop: boolean;
	readonly onAngle: boolean;
	readonly asked: string;
	readonly between: string;
	readonly outputs: string;
}

function wordsOf(set: GainSet, axis: AxisName): Words {
	const onAngle = set.structure === "anglePid" && axis !== "yaw";
	const hasAngleLoop = set.structure === "cascade" && axis !== "yaw";
	const gains = set[axis];
	return {
		hasAngleLoop,
		onAngle,
		asked: hasAngleLoop || onAngle ? "angle asked" : "turn rate asked",
		between: `rate asked, at most \u00b1${deg(gains.rateLimitRadPerSec)} deg/s`,
		outputs: `u, at most \u00b1${percent(gains.outputLimit)} %`,
	};
}

/** Left to right: for a page that is wide enough. D looks at the gyro alone, so its wire comes from there. */
export function wideLayout(set: GainSet, axis: AxisName): LoopLayout {
	const { hasAngleLoop, onAngle, asked, between, outputs } = wordsOf(set, axis);
	const gains = set[axis];
	const start = hasAngleLoop ? 0 : 290;
	const y = 100;
	return {
		width: 1080,
		height: 300,
		wires: [
			...(hasAngleLoop
				? [
						[
							[0, y],
							[96, y],
						],
						[
							[116, y],
							[424, y],
						],
						[
							[1010, 132],
							[1010, 270],
							[106, 270],
							[106, y + 12],
						],
					]
				: [
						[
							[start, y],
							[424, y],
						],
					]),
			[
				[444, y],
				[480, y],
			],
			[
				[480, y],
				[480, 40],
				[720, 40],
				[720, y - 12],
			],
			[
				[480, y],
				[708, y],
			],
			[
				[480, 220],
				[480, 165],
				[720, 165],
				[720, y + 12],
			],
			[
				[732, y],
				[820, y],
			],
			[
				[900, y],
				[950, y],
			],
			[
				[980, 132],
				[980, 220],
				onAngle ? [480, 220] : [434, 220],
				...(onAngle ? [] : ([[434, y + 12]] as Point[])),
			],
			...(onAngle
				? [
						[
							[1010, 132],
							[1010, 270],
							[434, 270],
							[434, y + 12],
						] as Point[],
					]
				: []),
		] as Point[][],
		sums: [
			...(hasAngleLoop ? [{ at: [106, y] as Point, minus: [122, y + 22] as Point }] : []),
			{ at: [434, y], minus: [450, y + 22] },
			{ at: [720, y], minus: [736, y + 22] },
		],
		boxes: [
			{ at: [860, y], size: [80, 56], text: "mixer" },
			{ at: [1005, y], size: [110, 64], text: "motors, craft" },
		],
		texts: [
			{ at: [start, y - 12], text: asked, anchor: "start" },
			...(hasAngleLoop ? [{ at: [270, y + 36] as Point, text: between, anchor: "middle" as const }] : []),
			{ at: [776, y - 12], text: "u", anchor: "middle" },
			{ at: [782, y + 40], text: outputs.slice(3), anchor: "middle" },
			{ at: [640, 213], text: "turn rate, from the gyro", anchor: "start" },
			...(hasAngleLoop || onAngle
				? [{ at: [640, 263] as Point, text: "attitude", anchor: "start" as const }]
				: []),
			{
				at: [590, y + 36],
				text: `at most \u00b1${percent(gains.integralLimit)} %`,
				anchor: "middle",
			},
		],
		gains: [
			...(hasAngleLoop ? [{ at: [270, y] as Point, gain: "kAngle" as const, label: "k_angle" }] : []),
			{ at: [590, 40], gain: "kp", label: "kp" },
			{ at: [590, y], gain: "ki", label: "ki \u222b" },
			{ at: [590, 165], gain: "kd", label: "kd d/dt" },
		],
	};
}

/** From top to bottom: for a phone. */
export function tallLayout(set: GainSet, axis: AxisName): LoopLayout {
	const { hasAngleLoop, onAngle, asked, between, outputs } = wordsOf(set, axis);
	const top = hasAngleLoop ? 0 : 150;
	const x = 128;
	const bottom = 660;
	const wires: Point[][] = [
		...(hasAngleLoop
			? [
					[
						[x, 24],
						[x, 44],
					],
					[
						[x, 64],
						[x, 204],
					],
					[
						[x + 20, 622],
						[x + 20, 650],
						[356, 650],
						[356, 54],
						[x + 12, 54],
					],
				]
			: [
					[
						[x, 174],
						[x, 204],
					],
				]),
		[
			[x, 224],
			[x, 400],
		],
		[
			[x, 250],
			[40, 250],
			[40, 412],
			[x - 12, 412],
		],
		[
			[326, 346],
			[240, 346],
			[240, 412],
			[x + 12, 412],
		],
		[
			[x, 424],
			[x, 480],
		],
		[
			[x, 530],
			[x, 566],
		],
		[
			[x + 40, 596],
			[326, 596],
			...(onAngle
				? ([[326, 346]] as Point[])
				: ([
						[326, 214],
						[x + 12, 214],
					] as Point[])),
		],
		...(onAngle
			? [
					[
						[x + 20, 622],
						[x + 20, 650],
						[356, 650],
						[356, 214],
						[x + 12, 214],
					] as Point[],
				]
			: []),
	] as Point[][];
	return {
		width: 372,
		height: bottom - top,
		wires: wires.map((wire) => wire.map(([px, py]) => [px, py - top] as Point)),
		sums: [
			...(hasAngleLoop ? [{ at: [x, 54] as Point, minus: [x + 18, 70] as Point }] : []),
			{ at: [x, 214 - top] as Point, minus: [x + 18, 232 - top] as Point },
			{ at: [x, 412 - top] as Point, minus: [x + 18, 430 - top] as Point },
		],
		boxes: [
			{ at: [x, 505 - top], size: [100, 44], text: "mixer" },
			{ at: [x, 594 - top], size: [120, 50], text: "motors, craft" },
		],
		texts: [
			{ at: [x + 14, (hasAngleLoop ? 20 : 170) - top], text: asked, anchor: "start" },
			...(hasAngleLoop ? [{ at: [x + 14, 178] as Point, text: between, anchor: "start" as const }] : []),
			{ at: [x + 12, 456 - top], text: outputs, anchor: "start" },
			{ at: [318, 588 - top], text: "turn rate, gyro", anchor: "end" },
			...(hasAngleLoop || onAngle
				? [{ at: [318, 642 - top] as Point, text: "attitude", anchor: "end" as const }]
				: []),
		],
		gains: [
			...(hasAngleLoop ? [{ at: [x, 116] as Point, gain: "kAngle" as const, label: "k_angle" }] : []),
			{ at: [52, 300 - top], gain: "kp", label: "kp" },
			{ at: [x + 36, 362 - top], gain: "ki", label: "ki \u222b" },
			{ at: [268, 300 - top], gain: "kd", label: "kd d/dt" },
		],
	};
}
