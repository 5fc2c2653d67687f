import { signal } from "@preact/signals";
import { keepingTrouble } from "../keeping/autosave.ts";
import { refusal } from "../state/store.ts";

const said = signal("");

/** One sentence to the user, until it is put away or the next. */
export function say(sentence: string): void {
	said.value = sentence;
}

/** What the page has to say, at the foot, read aloud once. */
export function Notice() {
	const sentences = [refusal.value, said.value, keepingTrouble.value].filter(Boolean);
	return (
		<output class="notice" aria-live="polite" hidden={sentences.length === 0}>
			{sentences.map((sentence) => (
				<p key={sentence}>{sentence}</p>
			))}
			{refusal.value || said.value ? (
				<button
					type="button"
					class="plain"
					onClick={() => {
						said.value = "";
						refusal.value = "";
					}}
				>
					Put away
				</button>
			) : null}
		</output>
	);
}
