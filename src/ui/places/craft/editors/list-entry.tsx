import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { errors } from "../../../state/store.ts";

interface Props {
	/** Of the entry, such as 'craft.parts[2]'. */
	readonly path: string;
	/** What says in one line what it is. */
	readonly summary: ComponentChildren;
	/** Just added: it opens, ready to be typed into. */
	readonly isNew: boolean;
	/** Its fields; made only while they are in sight. */
	readonly children: () => ComponentChildren;
}

/** One entry of a list: a line that opens into its fields. */
export function ListEntry({ path, summary, isNew, children }: Props) {
	const box = useRef<HTMLDetailsElement>(null);
	const [open, setOpen] = useState(isNew);
	const wrong = errors.value.filter((each) => each.path.startsWith(path));
	useEffect(() => {
		if (!isNew) return;
		const first = box.current?.querySelector("input");
		first?.focus();
		first?.select();
	}, [isNew]);
	return (
		<li>
			<details ref={box} class="entry" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
				<summary>
					{summary}
					{wrong.length > 0 ? (
						<span class="stop small wrong-here">something is missing or wrong here</span>
					) : null}
				</summary>
				{wrong
					.filter((each) => each.path === path)
					.map((each) => (
						<p class="stop small" key={each.message}>
							{each.message}
						</p>
					))}
				{open ? children() : null}
			</details>
		</li>
	);
}
