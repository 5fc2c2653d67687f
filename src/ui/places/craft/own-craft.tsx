import { useState } from "preact/hooks";
import type { KindName } from "../../../units/kinds.ts";
import { makeOwn, type SevenNumbers } from "../../commands/make-own.ts";
import { readTyped } from "../../entry/typed.ts";
import { useDraft } from "../../state/draft.ts";
import { run } from "../../state/store.ts";

interface Question {
	readonly key: Exclude<keyof SevenNumbers, "cells">;
	readonly kind: KindName;
	readonly label: string;
	readonly about: string;
	/** The unit that a bare number is read in. */
	readonly before: string;
}

const QUESTIONS: readonly Question[] = [
	{
		key: "mass",
		kind: "mass",
		label: "Mass, ready to fly",
		about: "on a kitchen scale, battery in",
		before: "1000 g",
	},
	{
		key: "wheelbase",
		kind: "length",
		label: "Hub to hub, across the centre",
		about: "with a ruler",
		before: "450 mm",
	},
	{
		key: "propeller",
		kind: "length",
		label: "Propeller, tip to tip",
		about: "printed on it, often in inches",
		before: "10 in",
	},
	{
		key: "maxThrust",
		kind: "force",
		label: "Most thrust of one motor",
		about: "maker's table or a scale; grams of force are understood",
		before: "800 g",
	},
	{
		key: "motorLag",
		kind: "time",
		label: "Motor lag",
		about: "to 63 % of a step; 50 ms when unknown",
		before: "50 ms",
	},
	{
		key: "loop",
		kind: "period",
		label: "Loop rate of your code",
		about: "how often it computes motor commands",
		before: "500 Hz",
	},
];

type Answers = Record<Question["key"], string>;
const EMPTY: Answers = { mass: "", wheelbase: "", propeller: "", maxThrust: "", motorLag: "", loop: "" };

/** Seven numbers that turn the demo into the builder's own craft. */
export function OwnCraft() {
	const [typed, setTyped] = useDraft("own-craft", EMPTY);
	const [cells, setCells] = useDraft("own-craft-cells", "");
	const [asked, setAsked] = useState(false);
	const problems = Object.fromEntries(
		QUESTIONS.map(({ key, kind, before }) => {
			const read = readTyped(kind, typed[key], before);
			return [key, read.ok ? "" : `expected ${read.expected}${read.hint ? `; ${read.hint}` : ""}`];
		}),
	);
	const cellProblem = /^\s*([1-9]|[12]\d)\s*$/.test(cells) ? "" : "expected a whole number of cells, 1 to 29";
	return (
		<form
			class="sheet own"
			aria-label="Your own craft"
			noValidate
			onSubmit={(event) => {
				event.preventDefault();
				setAsked(true);
				if (cellProblem || Object.values(problems).some(Boolean)) return;
				const texts = Object.fromEntries(
					QUESTIONS.map(({ key, kind, before }) => {
						const read = readTyped(kind, typed[key], before);
						return [key, read.ok ? read.text : ""];
					}),
				) as Answers;
				run(makeOwn({ ...texts, cells: Number(cells) }));
				setTyped(EMPTY);
				setCells("");
			}}
		>
			<header>
				<h2>Your own craft, in seven numbers</h2>
				<p class="quiet">Everything else gets a plain default that says so. The demo stays one undo away.</p>
			</header>
			<div class="fields">
				{QUESTIONS.map(({ key, label, about, before }) => (
					<div class="field" key={key}>
						<label for={`own-${key}`}>{label}</label>
						<input
							id={`own-${key}`}
							type="text"
							autoComplete="off"
							placeholder={before}
							value={typed[key]}
							aria-invalid={asked && problems[key] !== ""}
							aria-describedby={`own-${key}-note`}
							onInput={(event) => setTyped({ ...typed, [key]: event.currentTarget.value })}
						/>
						<p id={`own-${key}-note`} class="note">
							{asked && problems[key] ? (
								<span class="stop">{problems[key]}</span>
							) : (
								<span class="quiet">{about}</span>
							)}
						</p>
					</div>
				))}
				<div class="field">
					<label for="own-cells">Battery cells in series</label>
					<input
						id="own-cells"
						type="text"
						inputMode="numeric"
						autoComplete="off"
						placeholder="4"
						value={cells}
						aria-invalid={asked && cellProblem !== ""}
						aria-describedby="own-cells-note"
						onInput={(event) => setCells(event.currentTarget.value)}
					/>
					<p id="own-cells-note" class="note">
						{asked && cellProblem ? (
							<span class="stop">{cellProblem}</span>
						) : (
							<span class="quiet">the number before the S on its label</span>
						)}
					</p>
				</div>
			</div>
			<div class="row">
				<button type="submit" class="main">
					This is my craft
				</button>
			</div>
		</form>
	);
}
