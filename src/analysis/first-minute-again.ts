import type { GainSet } from "../control/spec.ts";

/** For each way that is no mistake in building: the command that flies it, or one like it. FILE stands for the scenario file. */
export const AGAIN = {
	"integral-on-ground": (set: GainSet) => `fly FILE --drill 'lift-off after a wait on a slope'${letRun(set)}`,
	"loop-stall": () => "check FILE --stalls",
	"signal-lost": () => "fly FILE --drill 'sticks lost'",
	"live-with-throttle-up": () => "fly FILE --drill 'made live with throttle up'",
	"empty-battery": () => "fly FILE --drill 'full throttle and back' --point 'nearly empty'",
	"gust-at-lift-off": () => "fly FILE --drill 'lift-off in a gust'",
	"foot-stuck": () => "fly FILE --drill 'lift-off with a foot stuck'",
} as const;

/** The same for a mistake in building; `motors` are the builder's numbers, none where it concerns none. */
export function wrongAgain(kind: string, motors: readonly number[]): string {
	return `fly FILE --wrong ${kind}${motors.length > 0 ? ` --motors ${motors.join(",")}` : ""}`;
}

/** Options that let a set's integral run on the ground; a rule for lift-off does not stand beside that. */
function letRun({ name, liftOff }: GainSet): string {
	const rule = liftOff ? ["liftOffAtHoverShare=", "liftOffFor="] : [];
	const settings = liftOff === null ? [] : [...rule, "integralOnGround=runs"];
	return [
		` --set ${quoted(name)}`,
		...settings.map((setting) => ` --with ${quoted(`gainSets.${name}.${setting}`)}`),
	].join("");
}

/** As one word of a command line. */
export const quoted = (text: string): string =>
	/^[\w.=/-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;
