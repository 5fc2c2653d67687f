import type { MadeBy } from "../report/json/made-by.ts";
import { VERSION } from "./version.ts";

interface Parts {
	readonly scenario?: { readonly name: string; readonly file: string; readonly sha256: string } | null;
	readonly gainSet?: string | null;
	readonly operatingPoint?: string | null;
	readonly seed?: number | null;
}

export function madeBy(parts: Parts = {}): MadeBy {
	const why: Record<string, string> = {};
	const take = <T>(key: string, value: T | null | undefined): T | null => {
		if (value !== null && value !== undefined) return value;
		why[key] = "plays no part in this result";
		return null;
	};
	const scenario = take("scenario", parts.scenario);
	return {
		program: "levelhead",
		version: VERSION,
		scenario: scenario && { name: scenario.name, file: scenario.file, sha256: scenario.sha256 },
		gainSet: take("gainSet", parts.gainSet),
		operatingPoint: take("operatingPoint", parts.operatingPoint),
		seed: take("seed", parts.seed),
		why,
	};
}

/** The same in one line. */
export function madeByLine(made: MadeBy): string {
	return [
		`Made by levelhead ${made.version}`,
		made.scenario &&
			`from ${made.scenario.file} ('${made.scenario.name}', sha256 ${made.scenario.sha256.slice(0, 12)})`,
		made.gainSet && `gain set ${made.gainSet}`,
		made.operatingPoint && `operating point ${made.operatingPoint}`,
		made.seed !== null && `seed ${made.seed}`,
	]
		.filter(Boolean)
		.join(", ");
}
