import { useState } from "preact/hooks";
import type { Picture } from "../../pictures/picture.ts";
import { pictureNumbers } from "../../pictures/picture-numbers.ts";
import { DataTable } from "./data-table.tsx";
import "./picture-numbers.css";

/** A picture's key numbers, folded; worked out only while they are open. */
export function PictureNumbers({ picture, id }: { readonly picture: Picture; readonly id: string }) {
	const [open, setOpen] = useState(false);
	const tables = open ? pictureNumbers(picture) : [];
	return (
		<details id={id} class="numbers" onToggle={(event) => setOpen(event.currentTarget.open)}>
			<summary>
				Numbers<span class="visually-hidden"> of {picture.title}</span>
			</summary>
			{open && tables.length === 0 ? <p class="quiet">Nothing is drawn yet.</p> : null}
			{tables.map(({ caption, columns, rows }) => (
				<DataTable
					key={caption}
					caption={`${caption}: ${picture.title}${picture.invented ? ", invented craft" : ""}`}
					columns={columns}
					rows={rows}
				/>
			))}
		</details>
	);
}
