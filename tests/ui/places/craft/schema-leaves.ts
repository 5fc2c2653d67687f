interface Def {
	readonly type: string;
	readonly shape?: Readonly<Record<string, Schema>>;
	readonly element?: Schema;
	readonly items?: readonly Schema[];
	readonly innerType?: Schema;
	readonly in?: Schema;
	readonly options?: readonly Schema[];
	readonly discriminator?: string;
	readonly values?: readonly unknown[];
}

export interface Schema {
	readonly def: Def;
	meta(): { readonly description?: string } | undefined;
}

export interface Leaf {
	/** '[]' for any entry of a list, '<kind>' after a group of several kinds; numbers side by side count as one. */
	readonly path: string;
	/** Of one value, or of each of several side by side. */
	readonly description: string;
}

/** Every value that a schema lets a document hold. */
export function schemaLeaves(schema: Schema, path: string, description = ""): Leaf[] {
	const said = schema.meta()?.description ?? description;
	const { type, shape, element, items, innerType, options, discriminator } = schema.def;
	if (innerType) return schemaLeaves(innerType, path, said);
	// A quantity: a number or a text, read by a transform.
	if (type === "pipe") return [{ path, description: schema.def.in?.meta()?.description ?? said }];
	if (shape) return Object.entries(shape).flatMap(([key, each]) => schemaLeaves(each, `${path}.${key}`));
	if (items) return [{ path, description: schemaLeaves(items[0]!, path)[0]!.description }];
	if (element) {
		const inner = schemaLeaves(element, `${path}[]`);
		const isPlain = inner.length === 1 && inner[0]!.path === `${path}[]` && !element.def.items;
		return isPlain ? [{ path, description: inner[0]!.description }] : inner;
	}
	if (options && discriminator !== undefined)
		return options.flatMap((option) => {
			const kind = String(option.def.shape?.[discriminator]?.def.values?.[0]);
			return schemaLeaves(option, `${path}<${kind}>`);
		});
	if (options) {
		const leaves = new Map<string, string>();
		for (const leaf of options.flatMap((option) => schemaLeaves(option, path, said)))
			leaves.set(leaf.path, [leaves.get(leaf.path), leaf.description].filter(Boolean).join("; "));
		return [...leaves].map(([at, text]) => ({ path: at, description: text }));
	}
	return [{ path, description: said }];
}
