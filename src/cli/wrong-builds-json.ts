import type { FirstFall } from "../analysis/first-fall.ts";
import type { WrongBuildsReport } from "../analysis/wrong-builds.ts";
import { CAUTIONS } from "../report/cautions.ts";
import type { Why } from "../report/json/loop-fields.ts";
import type { MadeBy } from "../report/json/made-by.ts";
import type { FallJson, WrongBuildsJson } from "../report/json/wrong-builds.ts";

export function wrongBuildsJson(report: WrongBuildsReport, madeBy: MadeBy): WrongBuildsJson {
	return {
		right: { status: report.right.status, first: report.right.sentence },
		builds: report.builds.map((build) => ({
			kind: build.kind,
			title: build.title,
			motors: [...build.motors],
			chosen: build.chosen,
			status: build.status,
			timeSec: build.timeSec,
			fall: fallJson(build.fall),
			sideByChance: build.sideByChance,
			first: build.first,
			bench: build.bench,
			apart: build.apart,
			alike: [...build.alike],
		})),
		cautions: [...CAUTIONS],
		madeBy,
	};
}

function fallJson(fall: FirstFall): FallJson {
	const why: Why = {};
	if (fall.direction === null) why["direction"] = "it leans less than a degree";
	if (fall.fallSec === null) why["fallSec"] = "it never leans 40 degrees";
	if (fall.shake === null) {
		why["shakeHz"] = "it does not shake";
		why["shakeDegPerSec"] = "it does not shake";
	}
	if (fall.turn === null) why["turnDegPerSec"] = "it turns more slowly than 45 deg/s";
	return {
		fromSec: fall.fromSec,
		direction: fall.direction,
		fallSec: fall.fallSec,
		tilt300Deg: fall.tilt300Deg,
		tiltDeg: fall.tiltDeg,
		shakeHz: fall.shake?.hz ?? null,
		shakeDegPerSec: fall.shake?.degPerSec ?? null,
		turnDegPerSec: fall.turn?.degPerSec ?? null,
		why,
	};
}
