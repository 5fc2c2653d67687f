import { firstFall } from "../analysis/first-fall.ts";
import { fastestWay, lightFrom, rightLiftOff } from "../analysis/wrong-build-flights.ts";
import { WRONG_KINDS, type WrongKind } from "../analysis/wrong-kinds.ts";
import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { Drill } from "../flight/drill.ts";
import type { FlightResult } from "../flight/result.ts";
import { many } from "../report/format.ts";
import type { FlyJson } from "../report/json/fly.ts";
import { BadInput } from "./errors.ts";
import { meant } from "./suggest.ts";
import { parseNumber } from "./values.ts";

export interface WrongOptions {
	readonly wrong?: string;
	readonly motors?: string;
}

export interface WrongChoice {
	readonly kind: WrongKind;
	readonly rotors: readonly number[];
	/** Why these motors; empty where they were named or none are concerned. */
	readonly chosen: string;
}

/** The mistake of --wrong on the motors of --motors, or on those with which it falls fastest; null without --wrong. */
export function wrongChoice(
	options: WrongOptions,
	craft: Craft,
	point: OperatingPoint,
	gainSet: GainSet,
): WrongChoice | null {
	if (options.wrong === undefined) {
		if (options.motors === undefined) return null;
		throw new BadInput(`--motors ${options.motors}: expected --wrong KIND with it`, kindsHint(""));
	}
	const kind = WRONG_KINDS.find((each) => each.kind === options.wrong);
	if (!kind) throw new BadInput(`--wrong '${options.wrong}': no such mistake`, kindsHint(options.wrong));
	if (options.motors !== undefined)
		return { kind, rotors: rotorsNamed(options.motors, kind, craft), chosen: "" };
	const ways = kind.waysOn(craft);
	const chosen =
		ways.length > 1
			? `of ${ways.length} ${kind.motors === 2 ? "pairs" : "motors"} it falls fastest with ${kind.motors === 2 ? "these" : "this one"}`
			: "";
	return { kind, rotors: fastestWay(rightLiftOff({ craft, point, gainSet }), kind, ways), chosen };
}

/** For `fly --json`; all empty for the build as believed. */
export function wrongJson(
	choice: WrongChoice | null,
	craft: Craft,
	point: OperatingPoint,
	drill: Drill,
	flight: FlightResult,
): FlyJson["wrong"] {
	if (!choice) return { kind: "", title: "", motors: [], chosen: "", first: "" };
	const ground = drill.start === "ground";
	const { sentence } = firstFall(
		flight.trace,
		ground ? lightFrom({ craft, point }, flight.trace) : 0,
		ground ? " after it gets light" : "",
		flight.status === "tippedOver",
	);
	return {
		kind: choice.kind.kind,
		title: choice.kind.title,
		motors: choice.rotors.map((i) => craft.rotors[i]!.motorNumber).sort((a, b) => a - b),
		chosen: choice.chosen,
		first: `${sentence[0]!.toUpperCase()}${sentence.slice(1)}.`,
	};
}

const kindsHint = (name: string): string =>
	meant(
		name,
		WRONG_KINDS.map((each) => each.kind),
	);

function rotorsNamed(text: string, kind: WrongKind, craft: Craft): number[] {
	if (kind.motors === 0)
		throw new BadInput(`--motors ${text}: '${kind.kind}' concerns no motor`, "Leave --motors out.");
	const numbers = text.split(/[,\s]+/).filter((part) => part !== "");
	const known = craft.rotors.map((rotor) => rotor.motorNumber);
	const rotors = numbers.map((part) => {
		const at = known.indexOf(parseNumber(part) ?? Number.NaN);
		if (at < 0)
			throw new BadInput(
				`--motors ${text}: the craft has no motor ${part}`,
				`It has ${[...known].sort((a, b) => a - b).join(", ")}.`,
			);
		return at;
	});
	if (rotors.length !== kind.motors || new Set(rotors).size !== rotors.length)
		throw new BadInput(
			`--motors ${text}: '${kind.kind}' concerns ${many(kind.motors, kind.motors === 2 ? "different motor" : "motor")}`,
			`Such as --motors ${known.slice(0, kind.motors).join(",")}`,
		);
	return rotors;
}
