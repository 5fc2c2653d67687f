import type { Craft } from "../craft/model.ts";
import { type BenchProbe, differs, SEEN } from "./bench-probes.ts";

/** 'motors 2 and 4 (front right, rear right)' */
export function motorsNamed(craft: Craft, rotors: readonly number[]): string {
	const sorted = [...rotors].sort((a, b) => craft.rotors[a]!.motorNumber - craft.rotors[b]!.motorNumber);
	const numbers = sorted.map((i) => craft.rotors[i]!.motorNumber);
	const places = sorted.map((i) => craft.rotors[i]!.place).join(", ");
	return `${rotors.length === 1 ? "motor" : "motors"} ${listed(numbers)} (${places})`;
}

/** 'a', 'a and b', 'a, b and c' */
export function listed(items: readonly (string | number)[]): string {
	if (items.length < 2) return items.join("");
	return `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

const faster = (answer: Float64Array): number[] => [...answer.keys()].filter((i) => answer[i]! > SEEN);

const size = (answer: Float64Array): number => answer.reduce((most, x) => Math.max(most, Math.abs(x)), 0);

const percent = (x: number): string => `${(100 * x).toFixed(x < 0.0995 ? 1 : 0)} %`;

/** Whether the same motors speed up. */
function sameMotors(a: Float64Array, b: Float64Array): boolean {
	return faster(a).join() === faster(b).join();
}

/** What the motors do, without the action: 'motors 2 and 4 (front right, rear right) speed up by 12 %'. */
function answerPhrase(craft: Craft, probe: BenchProbe, answer: Float64Array): string {
	const up = faster(answer);
	if (probe.kind === "alone") return `${motorsNamed(craft, up)} turns`;
	if (up.length === 0) return `no command changes by as much as ${percent(SEEN)}`;
	return `${motorsNamed(craft, up)} speed up by ${percent(size(answer))}`;
}

/** The action, what must happen, what happens with the mistake; capital first, no full stop. */
export function benchSentence(
	craft: Craft,
	probe: BenchProbe,
	right: Float64Array,
	wrong: Float64Array,
): string {
	const action = probe.action[0]!.toUpperCase() + probe.action.slice(1);
	if (probe.kind === "alone")
		return `${action}: ${motorsNamed(craft, faster(right))} must turn; with this mistake ${motorsNamed(craft, faster(wrong))} does`;
	const must = faster(right);
	if (must.length === 0)
		return `${action}: no command should change; with this mistake ${answerPhrase(craft, probe, wrong)}`;
	const should = `${action}: ${motorsNamed(craft, must)} must speed up`;
	if (sameMotors(right, wrong))
		return `${should} by ${percent(size(right))} of full command; with this mistake by ${percent(size(wrong))}`;
	const does = faster(wrong);
	return does.length === 0
		? `${should} by ${percent(size(right))} of full command; with this mistake ${answerPhrase(craft, probe, wrong)}`
		: `${should}; with this mistake ${motorsNamed(craft, does)} do`;
}

/** One mistake with its answers, one per probe. */
export interface Answered {
	readonly kind: string;
	readonly title: string;
	readonly byEye: string;
	readonly answers: readonly Float64Array[];
}

/** The probe that shows a mistake best: another motor turns, other motors speed up, or the largest difference in size; null where none does. */
export function tellingProbe(
	probes: readonly BenchProbe[],
	right: readonly Float64Array[],
	wrong: readonly Float64Array[],
): number | null {
	let best: number | null = null;
	let most = 0;
	probes.forEach((probe, k) => {
		if (!differs(right[k]!, wrong[k]!)) return;
		const gap = Math.max(...right[k]!.map((x, i) => Math.abs(x - wrong[k]![i]!)));
		// Whole units before fractions of command, which stay below 2.
		const plain = probe.kind === "alone" ? 20 : sameMotors(right[k]!, wrong[k]!) ? 10 : 15;
		const score = gap + plain - (probe.kind === "creep" ? 6 : 0);
		if (score > most) {
			most = score;
			best = k;
		}
	});
	return best;
}

export interface Apart {
	/** Empty where the telling probe is enough. */
	readonly sentence: string;
	/** Kinds that answer alike everywhere and look alike. */
	readonly alike: readonly string[];
}

/** Further probes, fewest first, that tell a mistake from those that answer its telling probe alike. */
export function apartFrom(
	craft: Craft,
	probes: readonly BenchProbe[],
	right: readonly Float64Array[],
	own: Answered,
	others: readonly Answered[],
	telling: number | null,
): Apart {
	const eye = (a: Answered, b: Answered) => a.byEye !== b.byEye;
	let left = others.filter(
		(other) =>
			!eye(own, other) && (telling === null || !differs(own.answers[telling]!, other.answers[telling]!)),
	);
	const parts: string[] = [];
	while (left.length > 0) {
		let best = -1;
		let told: readonly Answered[] = [];
		probes.forEach((_, k) => {
			const these = left.filter((other) => differs(own.answers[k]!, other.answers[k]!));
			if (these.length > told.length) {
				told = these;
				best = k;
			}
		});
		if (best < 0) break;
		const probe = probes[best]!;
		const well = differs(right[best]!, own.answers[best]!) ? "" : ", as when right";
		parts.push(
			`from ${listed(told.map((each) => `'${each.title}'`))}: ${probe.action}: ${answerPhrase(craft, probe, own.answers[best]!)}${well}`,
		);
		left = left.filter((other) => !told.includes(other));
	}
	return { sentence: parts.join("; "), alike: left.map((each) => each.kind) };
}
