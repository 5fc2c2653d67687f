import type { ReachCell, ReachLine, ReachReport } from "../tuning/reach-report.ts";
import { CAUTIONS } from "./cautions.ts";
import type { Why } from "./json/loop-fields.ts";
import type { ReachJson } from "./json/reach.ts";

const DEG = 180 / Math.PI;
const mm = (v: readonly number[]): number[] => v.map((each) => 1000 * each);

export type ReachNumbers = Omit<ReachJson, "madeBy">;

/** All but what made it. */
export function reachNumbers(report: ReachReport, character: string): ReachNumbers {
	return {
		character,
		statedLoadGrams: 1000 * report.statedKg,
		mostLoadGrams: 1000 * report.mostKg,
		farthest: report.farthest && {
			poseDeg: report.farthest.pose.poseRad.map((a) => a * DEG),
			reachMm: 1000 * report.farthest.pose.reachM,
		},
		poses: report.lines.map(lineJson),
		cautions: [...CAUTIONS],
	};
}

function lineJson({ pose, heaviest, cells }: ReachLine): ReachJson["poses"][number] {
	const why: Why = {};
	const grams = (key: string, kg: number | null): number | null => {
		if (kg === null) why[key] = heaviest.stops;
		return kg === null ? null : 1000 * kg;
	};
	return {
		poseDeg: pose.poseRad.map((a) => a * DEG),
		reachMm: 1000 * pose.reachM,
		gripMm: mm(pose.gripM),
		clearanceMm: 1000 * pose.clearanceM,
		refused: pose.refused,
		reserveGrams: grams("reserveGrams", heaviest.byReserveKg),
		heaviestGrams: grams("heaviestGrams", heaviest.heaviestKg),
		stops: heaviest.stops,
		loads: cells.map(cellJson),
		why,
	};
}

function cellJson({
	massKg,
	statics,
	margins,
	why: reason,
}: ReachCell): ReachJson["poses"][number]["loads"][number] {
	const why: Why = {};
	const known = <T>(key: string, value: T | null | undefined, otherwise: string): T | null => {
		if (value === null || value === undefined) why[key] = otherwise;
		return value ?? null;
	};
	const disk = margins?.disk;
	return {
		loadGrams: 1000 * massKg,
		commands: [...(statics?.commands ?? [])],
		shift: [...(statics?.shift ?? [])],
		tiltDeg: known("tiltDeg", statics && statics.tiltRad * DEG, reason),
		centreOfMassMm: mm(statics?.centreOfMassM ?? []),
		productsKgM2: [...(statics?.productsKgM2 ?? [])],
		servoNm: [...(statics?.servoNm ?? [])],
		servoAmperes: known("servoAmperes", statics?.servoA, reason),
		stable: known("stable", margins?.brief.periodic.stable, reason),
		diskPhaseDeg: known("diskPhaseDeg", disk?.phaseDeg, disk?.why || reason),
		diskGainDb: known("diskGainDb", disk?.gainDb, disk?.why || reason),
		broken: [...(statics?.broken ?? []), ...(margins?.broken ?? [])].map((each) => ({ ...each })),
		why,
	};
}
