import { useComputed } from "@preact/signals";
import { useState } from "preact/hooks";
import { AXES } from "../../../control/spec.ts";
import { alternativesWords } from "../../../report/alternatives-words.ts";
import { bindingSentences } from "../../../report/binding-sentences.ts";
import { gainSetDocument } from "../../../scenario/gain-set-document.ts";
import { CHARACTERS, type Character } from "../../../tuning/characters.ts";
import { freeName, putSet } from "../../commands/rack.ts";
import { useAnswer } from "../../engine/answers.ts";
import { gainUnit } from "../../entry/gain-units.ts";
import { asTyped } from "../../state/gain-entry.ts";
import { restingText } from "../../state/moving.ts";
import { run, scenario } from "../../state/store.ts";
import { type DataCell, DataTable } from "../../widgets/data-table.tsx";
import { FollowingGains } from "./following-gains.tsx";
import "./starting-gains.css";

const ABOUT: Readonly<Record<Character, string>> = {
	gentle: "far from trouble, for a first hover",
	even: "firm, with the classic margins kept",
	lively: "as quick as margins allow",
};

/** Gains to begin with, by character, with what stopped them and what would buy more. */
export function StartingGains() {
	const [character, setCharacter] = useState<Character | null>(null);
	const [more, setMore] = useState(false);
	const [reach, setReach] = useState(false);
	const { limb } = scenario.value.craft;
	return (
		<section class="sheet" aria-labelledby="starting-title">
			<header>
				<h2 id="starting-title">Starting gains</h2>
				<fieldset class="axes">
					<legend class="visually-hidden">Character</legend>
					{CHARACTERS.map((each) => (
						<button
							key={each}
							type="button"
							aria-pressed={each === character}
							title={ABOUT[each]}
							onClick={() => {
								setCharacter(each);
								setMore(false);
							}}
						>
							{each}
						</button>
					))}
				</fieldset>
			</header>
			{limb ? (
				<label class="row">
					<input
						type="checkbox"
						checked={reach}
						onChange={(event) => setReach(event.currentTarget.checked)}
					/>
					<span>Over the whole reach: every pose of the reach arm, without and with the heaviest load</span>
				</label>
			) : null}
			{character === null ? (
				<p class="quiet">
					Choose a character: gains are sought that keep its limits in every worst case of battery, load,
					inertia, thrust and lag. {CHARACTERS.map((each) => `${each}: ${ABOUT[each]}`).join("; ")}.
				</p>
			) : (
				<Found
					key={character}
					character={character}
					reach={reach && limb !== undefined}
					more={more}
					askMore={() => setMore(true)}
				/>
			)}
		</section>
	);
}

function Found({
	character,
	reach,
	more,
	askMore,
}: {
	readonly character: Character;
	readonly reach: boolean;
	readonly more: boolean;
	readonly askMore: () => void;
}) {
	// Gain sets and drills do not change the search: only the craft does.
	const text = useComputed(() => {
		const { gainSets: _g, drills: _d, ...rest } = JSON.parse(restingText.value) as Record<string, unknown>;
		return JSON.stringify(rest);
	});
	const answer = useAnswer("tune", () => ({
		text: text.value,
		character,
		alternatives: false,
		...(reach ? { reach } : {}),
	}));
	const bought = useAnswer("tune", () =>
		more ? { text: text.value, character, alternatives: true, ...(reach ? { reach } : {}) } : null,
	);
	const { value: result, fresh, error } = answer.value;
	if (error) return <p class="stop">{error}</p>;
	if (!result) return <p class="quiet">Searching all corners of this craft.</p>;
	const { gainSet } = result;
	const reasons = AXES.filter((axis) => !result.axes[axis].feasible).map((axis) => result.axes[axis].why);
	const words = alternativesWords(gainSet !== null);
	const askingMore = more ? null : (
		<button type="button" onClick={askMore}>
			{gainSet ? "What would buy more?" : "What would make it possible?"}
		</button>
	);
	return (
		<div class={fresh ? "found" : "found stale"} aria-busy={!fresh}>
			{gainSet ? (
				<>
					<DataTable
						caption={`Gains of character '${character}', kept in all ${result.corners.length} corners`}
						columns={[
							{ title: "axis" },
							...(["kAngle", "kp", "ki", "kd"] as const).map((gain) => ({
								title: gain === "kAngle" ? "k_angle" : gain,
								unit: gainUnit(gainSet, "roll", gain, scenario.value.firmware, asTyped.value).unit,
								number: true,
							})),
							{ title: "ki/kp", unit: "1/s", number: true },
							{ title: "crossover", unit: "Hz", number: true },
						]}
						rows={AXES.map((axis) => {
							const { crossoverRange, integralRatio } = result.axes[axis];
							const shown = (gain: "kAngle" | "kp" | "ki" | "kd"): string | DataCell => {
								if (gain === "kAngle" && axis === "yaw") return "-";
								const { factor } = gainUnit(gainSet, axis, gain, scenario.value.firmware, asTyped.value);
								const exact = gainSet[axis][gain] * factor;
								return { text: String(Number(exact.toPrecision(4))), exact };
							};
							return [
								axis,
								shown("kAngle"),
								shown("kp"),
								shown("ki"),
								shown("kd"),
								(integralRatio ?? 0).toPrecision(3),
								(crossoverRange ?? []).map((w) => (w / (2 * Math.PI)).toFixed(2)).join(" to "),
							];
						})}
					/>
					<div class="row">
						<button
							type="button"
							class="main"
							onClick={() =>
								run({
									name: `starting gains, ${character}${reach ? ", whole reach" : ""}`,
									apply: (now) => {
										const name = freeName(now);
										const document = gainSetDocument(
											{ ...gainSet, name },
											`Starting gains, character ${character}${reach ? ", over the whole reach" : ""}.`,
										);
										return putSet({ ...document, name }).apply(now);
									},
								})
							}
						>
							Put into the rack
						</button>
						{askingMore}
					</div>
					<h3>Why not more: the limits that stopped it</h3>
					<ul>
						{bindingSentences(result.binding).map((each) => (
							<li key={each}>{each}</li>
						))}
					</ul>
				</>
			) : (
				<>
					{reasons.map((each) => (
						<p class="stop" key={each}>
							{each}
						</p>
					))}
					<div class="row">{askingMore}</div>
				</>
			)}
			{reach ? <FollowingGains text={text.value} character={character} /> : null}
			{more ? (
				<>
					<h3>{words.title}</h3>
					{bought.value.value?.alternatives.length === 0 ? (
						<p>{words.none}</p>
					) : bought.value.value ? (
						<ul>
							{bought.value.value.alternatives.map((each) => (
								<li key={each.sentence}>{each.sentence}</li>
							))}
						</ul>
					) : (
						<p class="quiet">{bought.value.error || "Trying one change at a time."}</p>
					)}
				</>
			) : null}
		</div>
	);
}
