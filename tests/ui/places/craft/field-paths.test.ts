import { describe, expect, it } from "vitest";
import { craftSchema } from "../../../../src/scenario/craft-schema.ts";
import type { CraftField } from "../../../../src/ui/places/craft/craft-field.ts";
import { FIELD_GROUPS } from "../../../../src/ui/places/craft/field-groups.ts";
import { pathsOf } from "../../../../src/ui/places/craft/field-paths.ts";
import { LINK_MASS, LINK_PLACES, SERVO_FIELDS } from "../../../../src/ui/places/craft/link-fields.ts";
import {
	BENCH_COLUMNS,
	PART_FIELDS,
	ROTOR_FIELDS,
	SHAPES,
} from "../../../../src/ui/places/craft/part-fields.ts";
import { KINDS, type KindName } from "../../../../src/units/kinds.ts";
import { expectation } from "../../../../src/units/parse.ts";
import { type Schema, schemaLeaves } from "./schema-leaves.ts";

const leaves = schemaLeaves(craftSchema as unknown as Schema, "craft");
const fields = FIELD_GROUPS.flatMap((group) => group.sections.flatMap((each) => each.fields));
const missing = (shown: readonly CraftField[]): string[] => {
	const written = new Set(shown.flatMap(pathsOf));
	return leaves.map((leaf) => leaf.path).filter((path) => !written.has(path));
};

describe("the fields of the craft on the page", () => {
	it("are all that the schema has", () => {
		expect(leaves.length).toBeGreaterThan(150);
		expect(missing(fields)).toEqual([]);
	});
	it("are none that the schema does not have", () => {
		const known = new Set(leaves.map((leaf) => leaf.path));
		expect(fields.flatMap(pathsOf).filter((path) => !known.has(path))).toEqual([]);
	});
	it("stand on the page once", () => {
		const paths = fields.flatMap(pathsOf);
		expect(paths.filter((path, i) => paths.indexOf(path) !== i)).toEqual([]);
	});
	it("would be missed if one of them were not there", () => {
		expect(missing(fields.filter((each) => each.path !== "craft.airframe.feet"))).toEqual([
			"craft.airframe.feet[]",
		]);
		expect(missing(fields.filter((each) => each.as !== "bench"))).toHaveLength(BENCH_COLUMNS.length);
		expect(missing(fields.filter((each) => each.as !== "parts")).length).toBeGreaterThan(30);
	});
});

describe("the kind of quantity that a field reads", () => {
	const described = new Map(leaves.map((leaf) => [leaf.path, leaf.description]));
	const read: [string, string][] = fields.flatMap((field): [string, string][] => {
		switch (field.as) {
			case "quantity":
				return pathsOf(field).map((path) => [path, field.kind]);
			case "vector":
				return [[field.path, field.of]];
			case "table":
			case "matrix":
				return pathsOf(field).map((path) => {
					const column = field.columns.find((each) => path.endsWith(`.${each.key}`)) ?? field.columns[0]!;
					return [path, column.of];
				});
			case "parts":
				return Object.entries(SHAPES).flatMap(([shape, { sizes }]) =>
					[...Object.values(PART_FIELDS), ...sizes].map(({ key, of }): [string, string] => [
						`craft.parts[]<${shape}>.${key}`,
						of,
					]),
				);
			case "rotors":
				return ROTOR_FIELDS.map(({ key, of }) => [`craft.rotors[].${key}`, of]);
			case "limb":
				return [...Object.values(LINK_PLACES), ...LINK_MASS, ...SERVO_FIELDS].map(({ key, of }) => [
					`craft.limb.links[].${key}`,
					of,
				]);
			case "bench":
				return BENCH_COLUMNS.map(({ key, of }) => [`craft.motors.bench[].${key}`, of]);
			default:
				return [];
		}
	});
	it.each(read.filter(([, of]) => of in KINDS))("%s: %s", (path, of) => {
		expect(described.get(path)).toContain(expectation(of as KindName));
	});
});
