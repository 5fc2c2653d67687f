import type { z } from "zod";
import { type Path, valueAt } from "./path.ts";

interface Def {
	readonly type: string;
	readonly shape?: { readonly [key: string]: Schema };
	readonly element?: Schema;
	readonly innerType?: Schema;
	readonly in?: Schema;
	readonly options?: readonly Schema[];
	readonly discriminator?: string;
	readonly values?: readonly unknown[];
}
interface Schema {
	readonly def: Def;
}

/** The keys that a group at this path may have; of several forms, those of the form that the document names. */
export function keysAt(schema: z.ZodType, path: Path, document: unknown): string[] {
	let forms = [schema as unknown as Schema];
	for (let depth = 0; depth <= path.length; depth++) {
		const here = valueAt(document, path.slice(0, depth));
		forms = forms.flatMap((form) => groups(form, here));
		if (depth < path.length) forms = forms.flatMap((form) => into(form, path[depth]!));
	}
	return [...new Set(forms.flatMap((form) => Object.keys(form.def.shape ?? {})))];
}

function groups(schema: Schema, value: unknown): Schema[] {
	const { def } = schema;
	const inner = def.innerType ?? def.in;
	if (inner !== undefined) return groups(inner, value);
	if (def.options === undefined) return [schema];
	const { discriminator } = def;
	const named =
		discriminator === undefined
			? def.options
			: def.options.filter((option) =>
					option.def.shape?.[discriminator]?.def.values?.includes(valueAt(value, [discriminator])),
				);
	return named.flatMap((option) => groups(option, value));
}

function into(schema: Schema, key: string | number): Schema[] {
	const { shape, element } = schema.def;
	if (typeof key === "number") return element === undefined ? [] : [element];
	return shape !== undefined && Object.hasOwn(shape, key) ? [shape[key]!] : [];
}
