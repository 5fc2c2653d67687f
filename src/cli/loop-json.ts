import type { DiskMargin } from "../analysis/disk-margin.ts";
import type { TransferLoop, TransferLoopResult } from "../analysis/scalar-loop-transfer.ts";
import type { Crossing } from "../analysis/scalar-loop-types.ts";
import type { LoopJson } from "../report/json/loop.ts";
import { loopFields, type Why } from "../report/json/loop-fields.ts";
import { madeBy } from "./made-by.ts";

/** The analysis of a textbook loop under the names that scripts read. */
export function loopJson(asked: TransferLoop, result: TransferLoopResult): LoopJson {
	const fields = loopFields(result);
	const why: Why = { ...fields.why };
	if (!result.diskMargin) why["diskMargin"] = result.why || "the closed loop is unstable";
	return {
		...fields,
		crossovers: result.crossings.map(crossover),
		diskMargin: result.diskMargin && diskJson(result.diskMargin),
		loop: askedJson(asked),
		why,
		madeBy: madeBy(),
	};
}

function crossover(crossing: Crossing): LoopJson["crossovers"][number] {
	const { radPerSec } = crossing;
	const finite = Number.isFinite(radPerSec);
	const why: Why = finite ? {} : { radPerSec: "at infinite frequency" };
	const at = { radPerSec: finite ? radPerSec : null, why };
	return crossing.kind === "gain"
		? { kind: "gain", ...at, marginDeg: crossing.marginDeg, delayMs: 1000 * crossing.delaySec }
		: { kind: "phase", ...at, marginDb: crossing.marginDb };
}

function diskJson(disk: DiskMargin): NonNullable<LoopJson["diskMargin"]> {
	const why: Why = {};
	const finite = (name: string, value: number, reason: string): number | null => {
		if (Number.isFinite(value)) return value;
		why[name] = reason;
		return null;
	};
	return {
		alpha: disk.alpha,
		sigma: disk.sigma,
		gainFactorLow: disk.gainMin,
		gainFactorHigh: finite("gainFactorHigh", disk.gainMax, "any rise of gain is borne"),
		phaseDeg: disk.phaseDeg,
		radPerSec: finite("radPerSec", disk.radPerSec, "at infinite frequency"),
		why,
	};
}

function askedJson(asked: TransferLoop): LoopJson["loop"] {
	const why: Why = {};
	const sampleTimeSec = asked.sampleTimeSec ?? null;
	const hold = asked.hold === "zoh" ? "zoh" : null;
	if (sampleTimeSec === null) why["sampleTimeSec"] = "a continuous loop";
	if (hold === null) why["hold"] = asked.discrete ? "given in z: held already" : "a continuous loop";
	return {
		num: [...asked.num],
		den: [...asked.den],
		variable: asked.discrete ? "z" : "s",
		delaySec: asked.delaySec ?? 0,
		sampleTimeSec,
		hold,
		why,
	};
}
