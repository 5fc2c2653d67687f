import { fieldNotes } from "../../../state/field-notes.ts";

/** What is wrong with, odd or assumed about a list as a whole. */
export function Lines({ path }: { readonly path: string }) {
	const { error, odd, assumed } = fieldNotes(path);
	return (
		<>
			{error ? <p class="stop small">{error.message}</p> : null}
			{odd.map((sentence) => (
				<p class="care small" key={sentence}>
					{sentence}
				</p>
			))}
			{assumed ? (
				<p class="quiet small">
					Assumed: {assumed.value}, because {assumed.because}. To measure: {assumed.measure}.
				</p>
			) : null}
		</>
	);
}
