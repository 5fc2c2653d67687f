import type { GainSet } from "../control/spec.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import type { FlightStatus } from "../flight/result.ts";
import { benchAnswers, benchProbes } from "./bench-probes.ts";
import { type Answered, apartFrom, benchSentence, motorsNamed, tellingProbe } from "./bench-sentences.ts";
import type { FirstFall } from "./first-fall.ts";
import {
	fastestWay,
	flownSentence,
	flyWrong,
	type LiftOff,
	rightLiftOff,
	rightSentence,
} from "./wrong-build-flights.ts";
import { WRONG_KINDS, type WrongKind } from "./wrong-kinds.ts";

/** One mistake on one craft: flown, and seen on the bench. */
interface WrongBuild {
	readonly kind: string;
	readonly title: string;
	/** The builder's numbers of the motors concerned; empty where it concerns none. */
	readonly motors: readonly number[];
	/** Why these motors: 'falls fastest of 6 pairs'; empty where there is no choice. */
	readonly chosen: string;
	readonly status: FlightStatus;
	readonly timeSec: number;
	readonly fall: FirstFall;
	readonly sideByChance: boolean;
	/** Sentences with capital and full stop. */
	readonly first: string;
	readonly bench: string;
	readonly apart: string;
	/** Kinds that the bench cannot tell from this one, 'right build' among them. */
	readonly alike: readonly string[];
}

export interface WrongBuildsReport {
	/** The right build in the same flight. */
	readonly right: { readonly status: FlightStatus; readonly sentence: string };
	readonly builds: readonly WrongBuild[];
	/** Of the flights; side by chance was tried with the two next. */
	readonly seed: number;
}

const sentence = (text: string): string => (text === "" ? "" : `${text[0]!.toUpperCase()}${text.slice(1)}.`);

export const RIGHT_BUILD = "right build";

interface Choice {
	readonly kind: WrongKind;
	readonly rotors: readonly number[];
	readonly chosen: string;
}

/** Every kind on this craft, flown by its gain set at an operating point. */
export function wrongBuilds(craft: Craft, point: OperatingPoint, gainSet: GainSet): WrongBuildsReport {
	const liftOff = rightLiftOff({ craft, point, gainSet });
	const { right } = liftOff;
	const rateOnly = gainSet.structure === "rateOnly";
	const probes = benchProbes(craft, rateOnly);
	const rightAnswers = benchAnswers(craft, gainSet, undefined, probes);
	const choices = WRONG_KINDS.flatMap((kind) => choicesOf(liftOff, kind));
	const answered = choices.map(
		({ kind, rotors }): Answered => ({
			kind: kind.kind,
			title: kind.title,
			byEye: kind.byEye,
			answers: benchAnswers(craft, gainSet, kind.wiring(gainSet, craft, rotors), probes),
		}),
	);
	const asBuilt: Answered = { kind: RIGHT_BUILD, title: RIGHT_BUILD, byEye: "", answers: rightAnswers };
	const builds = choices.map(({ kind, rotors, chosen }, k): WrongBuild => {
		const wrong = flyWrong(liftOff, kind, rotors);
		const own = answered[k]!;
		const telling = tellingProbe(probes, rightAnswers, own.answers);
		const others = answered.filter((each) => each.kind !== own.kind);
		const apart = apartFrom(craft, probes, rightAnswers, own, [asBuilt, ...others], telling);
		return {
			kind: kind.kind,
			title: kind.title,
			motors: rotors.map((i) => craft.rotors[i]!.motorNumber).sort((a, b) => a - b),
			chosen,
			status: wrong.flight.status,
			timeSec: wrong.flight.timeSec,
			fall: wrong.fall,
			sideByChance: !wrong.sameSide,
			first: sentence(flownSentence(wrong, liftOff, kind)),
			bench: benchText(craft, kind, rotors, own, rightAnswers, probes, telling),
			apart: apartText(apart.sentence, apart.alike, telling === null && kind.byEye === ""),
			alike: apart.alike,
		};
	});
	return {
		right: { status: right.flight.status, sentence: sentence(rightSentence(liftOff)) },
		builds,
		seed: right.flight.seed,
	};
}

function benchText(
	craft: Craft,
	kind: WrongKind,
	rotors: readonly number[],
	own: Answered,
	right: readonly Float64Array[],
	probes: ReturnType<typeof benchProbes>,
	telling: number | null,
): string {
	if (kind.byEye !== "")
		return `Battery unplugged, look at the propeller of ${motorsNamed(craft, rotors)} before it goes on: ${kind.byEye}. Motor commands are those of the right build.`;
	if (telling === null)
		return "Nothing to see: with these gains every motor command on the bench is that of the right build within what the eye tells.";
	return `${benchSentence(craft, probes[telling]!, right[telling]!, own.answers[telling]!)}.`;
}

function apartText(apart: string, alike: readonly string[], unseen: boolean): string {
	const others = alike.filter((kind) => kind !== RIGHT_BUILD);
	const parts = unseen
		? ["Only reading the code, or the flight's log, tells."]
		: apart === ""
			? []
			: [`Told ${apart}.`];
	if (others.length > 0) parts.push(`The bench does not tell it from ${others.join(", ")}.`);
	if (parts.length === 0) parts.push("No other mistake answers so.");
	return parts.join(" ");
}

/** The rotors that a kind is told for: the way that falls fastest; of swapped motors also the likeliest, neighbours in number. */
function choicesOf(flying: LiftOff, kind: WrongKind): Choice[] {
	const ways = kind.waysOn(flying.craft);
	const fastest = fastestWay(flying, kind, ways);
	const what = kind.motors === 2 ? "pairs" : "motors";
	const chosen = ways.length > 1 ? `falls fastest of ${ways.length} ${what}` : "";
	const first: Choice = { kind, rotors: fastest, chosen };
	if (kind.motors !== 2) return [first];
	const number = (i: number): number => flying.craft.rotors[i]!.motorNumber;
	const neighbours = ways.filter(([a, b]) => Math.abs(number(a!) - number(b!)) === 1);
	if (neighbours.some((pair) => pair.join() === fastest.join())) return [first];
	const likeliest = fastestWay(flying, kind, neighbours);
	return [
		first,
		{
			kind,
			rotors: likeliest,
			chosen: "outputs side by side, the likeliest pair; common practice, no source",
		},
	];
}
