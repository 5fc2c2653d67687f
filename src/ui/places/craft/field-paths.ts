import type { CraftField } from "./craft-field.ts";
import { LINK_MASS, LINK_PLACES, SERVO_FIELDS } from "./link-fields.ts";
import { BENCH_COLUMNS, PART_FIELDS, ROTOR_FIELDS, SHAPES } from "./part-fields.ts";

/**
 * What of the craft a field's editor writes: paths with '[]' for any entry of a list and '<kind>' after a group that comes in several
 * kinds, such as 'craft.parts[]<box>.size'. Numbers side by side count as one.
 */
export function pathsOf(field: CraftField): readonly string[] {
	const { path, onlyFor } = field;
	switch (field.as) {
		case "kind":
			return field.options.map(({ value }) => `${path}<${value}>.${field.key}`);
		case "spread":
			return [path, `${path}.plusMinus`, `${path}.standardDeviation`];
		case "signal loss":
			return [path, `${path}.throttle`];
		case "table":
			return typeof field.columns[0]?.key === "number"
				? [`${path}[]`]
				: field.columns.map(({ key }) => `${path}[].${key}`);
		case "matrix":
			return field.rows.flatMap((row) => field.columns.map(({ key }) => `${path}.${row}.${key}`));
		case "parts":
			return Object.entries(SHAPES).flatMap(([shape, { sizes }]) => {
				const base = `${path}[]<${shape}>`;
				const keys = [...Object.values(PART_FIELDS), ...sizes].map(({ key }) => `${base}.${key}`);
				return [...keys, `${base}.shape`, `${base}.at[]`];
			});
		case "rotors":
			return [...ROTOR_FIELDS.map(({ key }) => `${path}[].${key}`), `${path}[].spin`];
		case "limb": {
			const fields = [...Object.values(LINK_PLACES), ...LINK_MASS, ...SERVO_FIELDS];
			return [...fields.map(({ key }) => key), "axis", "parts"].map((key) => `${path}[].${key}`);
		}
		case "bench":
			return BENCH_COLUMNS.map(({ key }) => `${path}[].${key}`);
		default: {
			if (onlyFor === undefined) return [path];
			const dot = path.lastIndexOf(".");
			return [`${path.slice(0, dot)}<${onlyFor}>${path.slice(dot)}`];
		}
	}
}
