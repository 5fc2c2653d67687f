import type { RigLoop, RigReport } from "./rig-report-types.ts";

/** Changes smaller than this are not worth a sentence. */
const SAME = 0.03;

/** Why gains that are judged on this rig mislead, each sentence with its number. */
export function rigSentences(
	{ kind, axis, geometry: g, ofHover }: Pick<RigReport, "kind" | "axis" | "geometry" | "ofHover">,
	loops: { readonly rig: RigLoop; readonly air: RigLoop } | null,
): string[] {
	const list: string[] = [];
	if (g.inertiaFactor > 1 + SAME)
		list.push(
			`on this rig the craft turns about ${axis} as if its inertia were ${number(g.inertiaFactor)} times larger (${number(g.craftInertiaKgM2)} of its own, ${number(g.swingingInertiaKgM2)} of its mass swinging about the pivot, ${number(g.rigInertiaKgM2)} of the rig, kg m^2)`,
		);
	if (ofHover < 1 - SAME)
		list.push(
			`at ${(100 * ofHover).toFixed(0)} % of hover throttle the motors turn it more weakly than in the air, where the same u does more`,
		);
	const shake = loops && loopSentence(loops, axis);
	if (shake) list.push(shake);
	list.push(...stiffnessSentences(kind, axis, g));
	if (g.frictionNmSec > 0)
		list.push(
			`its friction of ${number(g.frictionNmSec)} N m s/rad alone stops a turn in ${number((g.inertiaFactor * g.craftInertiaKgM2) / g.frictionNmSec)} s (to 37 %): damping that the air does not give`,
		);
	return list;
}

function loopSentence({ rig, air }: { rig: RigLoop; air: RigLoop }, axis: string): string | null {
	if (rig.growthPerSec > 0 && air.growthPerSec <= 0)
		return `with these gains it swings up by itself on the rig, twice as far every ${number(Math.LN2 / rig.growthPerSec)} s, and does not in the air: do not tune that away`;
	const [onRig, inAir] = [rig.margins.felt.fastShake, air.margins.felt.fastShake];
	if (!inAir) return null;
	if (!onRig)
		return `on the rig ${rig.margins.felt.why["fastShake"]}; in the air ${axis} shakes at ${number(inAir.factor)} times this kp`;
	const ratio = onRig.factor / inAir.factor;
	if (Math.abs(ratio - 1) < SAME) return null;
	const at = `${axis} shakes at ${number(onRig.factor)} times this kp on the rig (${number(onRig.hz)} Hz), at ${number(inAir.factor)} times in the air (${number(inAir.hz)} Hz)`;
	return ratio > 1
		? `${at}: a kp that is ${number(ratio)} times too high for the air looks calm here`
		: `${at}: the rig shakes before the air does`;
}

function stiffnessSentences(kind: RigReport["kind"], axis: string, g: RigReport["geometry"]): string[] {
	const { stiffnessNmPerRad: stiffness, periodSec, fastPeriodSec, outputPctPerDeg } = g;
	if (Math.abs(stiffness) < 1e-6)
		return axis === "yaw" ? [] : ["nothing pulls it back to level: tilt drifts as in the air"];
	const share =
		outputPctPerDeg === null ? "" : `, ${number(Math.abs(outputPctPerDeg))} % of output per degree of lean`;
	if (stiffness < 0)
		return [
			`its middle stands over the pivot: it topples with ${number(-stiffness)} N m/rad${share}, which no flight does; the loop must hold it up`,
		];
	const period =
		periodSec === null
			? ""
			: ` (it swings by itself every ${number(periodSec)} s${fastPeriodSec === null ? "" : ` and ${number(fastPeriodSec)} s`})`;
	return [
		`the ${kind === "pivot" ? "pendulum's" : "strings'"} own stiffness of ${number(stiffness)} N m/rad${period} ${axis === "yaw" ? "pulls it back to its heading" : "pulls it back to level: it hides a wrong level"}, and what is asked for stops short until the integral makes up for it${share}`,
	];
}

const number = (value: number): string => String(Number(value.toPrecision(2)));
