import type { MassProperties } from "../../../../craft/model.ts";
import type { PartShare } from "../../../../craft/parts.ts";

const COLUMNS = ["part", "mass", "of mass", "of roll", "of pitch", "of yaw"];

/** Read by eye only: every line says its numbers with their words. */
export function PartLineHead() {
	return (
		<p class="part-line head small quiet" aria-hidden="true">
			{COLUMNS.map((title) => (
				<span key={title}>{title}</span>
			))}
		</p>
	);
}

interface Props {
	readonly part: Readonly<Record<string, unknown>>;
	/** Undefined while the document cannot be read. */
	readonly share: PartShare | undefined;
	readonly whole: MassProperties;
}

/** A part in one line: what it is and what it gives to mass and inertia. */
export function PartLine({ part, share, whole }: Props) {
	const count = Array.isArray(part["at"]) ? part["at"].length : 1;
	const name = String(part["name"] ?? "");
	const j = whole.inertiaKgM2;
	const given: readonly (readonly [string, number])[] = share
		? [
				["of the mass", share.massKg / whole.massKg],
				["of roll inertia", share.inertiaKgM2[0] / j[0]],
				["of pitch inertia", share.inertiaKgM2[4] / j[4]],
				["of yaw inertia", share.inertiaKgM2[8] / j[8]],
			]
		: [];
	return (
		<span class="part-line">
			<span>
				{count > 1 ? `${count} \u00d7 ` : ""}
				{name || "no name"} <span class="quiet small">{String(part["shape"] ?? "")}</span>
			</span>
			<span>{share ? `${(1000 * share.massKg).toFixed(0)} g` : String(part["mass"] ?? "")}</span>
			{given.map(([words, fraction]) => (
				<span key={words} class="share" style={{ "--share": `${Math.min(100, 100 * fraction).toFixed(1)}%` }}>
					{(100 * fraction).toFixed(1)} %<span class="visually-hidden"> {words},</span>
				</span>
			))}
		</span>
	);
}
