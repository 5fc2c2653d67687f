import type { Craft } from "../craft/model.ts";
import type { Notes } from "../craft/notes.ts";
import { type LimbMove, nearMiss } from "../flight/limb-way.ts";
import { formatQuantity } from "../units/format.ts";
import type { DrillInput } from "./drill-schema.ts";

type LimbInput = Extract<NonNullable<DrillInput["events"]>[number], { kind: "limb" }>;

/** @returns null where the event says nothing that a limb can do */
export function resolveLimbMove(event: LimbInput, path: string, craft: Craft, notes: Notes): LimbMove | null {
	const before = notes.problems.length;
	const links = craft.limb?.links ?? [];
	const link = links.findIndex(({ name }) => name === event.link);
	if (link < 0)
		notes.problem(
			`${path}.link`,
			event.link,
			links.length > 0
				? `a link of the limb: ${links.map(({ name }) => name).join(", ")}`
				: "a craft with a limb (craft.limb)",
		);
	const { at: atSec, angle, over, profile } = event;
	if (angle !== undefined && profile)
		notes.problem(`${path}.profile`, profile, "an angle or a measured profile, not both");
	if (over !== undefined && profile)
		notes.problem(`${path}.over`, over, "no time beside a measured profile, which has its own");
	profile?.forEach(([sec], i) => {
		const earlier = profile[i - 1]?.[0];
		if (earlier === undefined ? sec !== 0 : !(sec > earlier))
			notes.problem(
				`${path}.profile[${i}]`,
				sec,
				earlier === undefined ? "time 0 at the first point" : `a time after ${earlier} s`,
			);
	});
	const last = angle ?? profile?.at(-1)?.[1];
	if (last === undefined)
		notes.problem(`${path}.angle`, angle, 'an angle such as "90 deg", or a measured profile');
	if (last === undefined || notes.problems.length > before) return null;
	return {
		atSec,
		kind: "limb",
		link,
		angleRad: last,
		...(over !== undefined && { overSec: over }),
		...(profile && { profile }),
	};
}

/** What the drill asks of a limb that begins folded: every pose, and the way there. `paths`: where each move stands in the file. */
export function limbMoveProblems(
	moves: readonly LimbMove[],
	paths: readonly string[],
	craft: Craft,
	notes: Notes,
): void {
	const { limb } = craft;
	if (!limb) return;
	const before = notes.problems.length;
	const folded = limb.links.map(() => 0);
	let pose = folded;
	moves.forEach(({ link, angleRad, profile }, i) => {
		const { travelRad, name } = limb.links[link]!;
		const range = `within the travel of '${name}', ${formatQuantity("angle", travelRad[0])} to ${formatQuantity("angle", travelRad[1])}`;
		const within = (angle: number): boolean => angle >= travelRad[0] - 1e-9 && angle <= travelRad[1] + 1e-9;
		if (profile) {
			profile.forEach(([, angle], k) => {
				if (!within(angle)) notes.problem(`${paths[i]}.profile[${k}]`, formatQuantity("angle", angle), range);
			});
			if (Math.abs(profile[0]![1] - pose[link]!) > 1e-3)
				notes.problem(
					`${paths[i]}.profile[0]`,
					formatQuantity("angle", profile[0]![1]),
					`${formatQuantity("angle", pose[link]!)}, where '${name}' stands then`,
				);
		} else if (!within(angleRad))
			notes.problem(`${paths[i]}.angle`, formatQuantity("angle", angleRad), range);
		pose = pose.map((angle, k) => (k === link ? angleRad : angle));
	});
	if (notes.problems.length > before) return;
	const miss = nearMiss(craft, folded, moves);
	if (!miss) return;
	const { name } = limb.links[moves[miss.move]!.link]!;
	notes.problem(
		`${paths[miss.move]}.${moves[miss.move]!.profile ? "profile" : "angle"}`,
		formatQuantity("angle", moves[miss.move]!.angleRad),
		`a way of '${name}' that stays 10 mm clear of every propeller; '${miss.of}' comes within ${formatQuantity("length", Math.max(0, miss.metres))} of the ${miss.rotor} disc at ${miss.atSec.toFixed(2)} s`,
	);
}
