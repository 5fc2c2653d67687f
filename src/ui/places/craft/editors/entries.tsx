import type { ComponentChildren } from "preact";
import type { Command } from "../../../state/model.ts";
import { run } from "../../../state/store.ts";
import { ListEntry } from "./list-entry.tsx";
import { useEntries } from "./use-entries.ts";

export type Entry = Readonly<Record<string, unknown>>;

/** A button that changes the list. */
interface Change {
	readonly words: string;
	readonly disabled?: boolean;
}

interface EntriesProps {
	readonly path: string;
	/** What the list is called. */
	readonly label: string;
	readonly entries: readonly Entry[];
	summary(entry: Entry, index: number): ComponentChildren;
	fields(entry: Entry, index: number): ComponentChildren;
	readonly add: Change & { command(): Command };
	readonly copy?: Change & { command(index: number): Command };
	readonly remove: Change & { command(entry: Entry, index: number): Command };
	/** Beside the button that adds. */
	readonly children?: ComponentChildren;
}

/** A list of the craft's: every entry a line that opens into its fields, can be taken out and, where that makes sense, copied. */
export function Entries({
	path,
	label,
	entries,
	summary,
	fields,
	add,
	copy,
	remove,
	children,
}: EntriesProps) {
	const { addButton, isNew, keyOf, onAdded, onRemoved } = useEntries();
	return (
		<>
			{entries.length > 0 ? (
				<ol class="entries" aria-label={label}>
					{entries.map((entry, i) => (
						<ListEntry key={keyOf(i)} path={`${path}[${i}]`} isNew={isNew(i)} summary={summary(entry, i)}>
							{() => (
								<>
									{fields(entry, i)}
									<div class="row">
										{copy ? (
											<button
												type="button"
												disabled={copy.disabled}
												onClick={() => {
													run(copy.command(i));
													onAdded(i + 1);
												}}
											>
												{copy.words}
											</button>
										) : null}
										<button
											type="button"
											disabled={remove.disabled}
											onClick={() => {
												run(remove.command(entry, i));
												onRemoved();
											}}
										>
											{remove.words}
										</button>
									</div>
								</>
							)}
						</ListEntry>
					))}
				</ol>
			) : null}
			<div class="row">
				<button
					type="button"
					ref={addButton}
					disabled={add.disabled}
					onClick={() => {
						run(add.command());
						onAdded(entries.length);
					}}
				>
					{add.words}
				</button>
				{children}
			</div>
		</>
	);
}
