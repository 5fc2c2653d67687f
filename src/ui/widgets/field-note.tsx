import type { Assumption } from "../../craft/model.ts";

interface Props {
	readonly id: string;
	/** What is wrong; empty where nothing is. */
	readonly message: string;
	readonly remark: string;
	readonly odd: readonly string[];
	readonly assumed: Assumption | null;
	readonly about: string;
	/** The assumed value is not in the field itself. */
	readonly sayValue?: boolean;
}

/** What stands beside a field: what is wrong, how it was understood, what is odd, why it is assumed. */
export function FieldNote({ id, message, remark, odd, assumed, about, sayValue = false }: Props) {
	return (
		<div id={id} class="note">
			{message ? <p class="stop">{message}</p> : null}
			{remark && !message ? <p class="quiet">{remark}</p> : null}
			{odd.map((sentence) => (
				<p class="care" key={sentence}>
					{sentence}
				</p>
			))}
			{assumed ? (
				<details>
					<summary>assumed</summary>
					<p>
						{sayValue ? `${assumed.value}: ` : ""}
						{assumed.because}. Source: {assumed.source}. To measure: {assumed.measure}.
					</p>
				</details>
			) : null}
			{about ? <p class="quiet">{about}</p> : null}
		</div>
	);
}
