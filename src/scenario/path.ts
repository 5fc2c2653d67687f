export type Path = readonly (string | number)[];

/** `craft.rotors[2].position[0]` */
export function formatPath(path: Path): string {
	return path.reduce<string>((text, key) => {
		if (typeof key === "number") return `${text}[${key}]`;
		return text === "" ? key : `${text}.${key}`;
	}, "");
}

/** The other way; list entries also by name: `gainSets.A.roll.kp`. @throws RangeError on an empty level. */
export function parsePath(text: string): Path {
	const keys = text.split(/\.|(?=\[)/).map((part) => {
		const index = /^\[(\d+)\]$/.exec(part);
		return index === null ? part : Number(index[1]);
	});
	if (text === "" || keys.some((key) => key === "" || (typeof key === "string" && /[[\]]/.test(key))))
		throw new RangeError(`path '${text}': expected keys between dots such as craft.mass or drills[0].height`);
	return keys;
}

export function valueAt(document: unknown, path: Path): unknown {
	return path.reduce<unknown>(
		(value, key) =>
			value !== null && typeof value === "object" && Object.hasOwn(value, key)
				? (value as Record<string | number, unknown>)[key]
				: undefined,
		document,
	);
}

/**
 * A copy with one value set. A list's entry is named by its index or its "name"; a missing group is made; a missing
 * list entry is an error. Everything off the path is shared, not copied. @throws RangeError naming the level.
 */
export function setAt(document: unknown, path: Path, value: unknown): unknown {
	return place(document, path, 0, value);
}

function place(node: unknown, path: Path, depth: number, value: unknown): unknown {
	if (depth === path.length) return value;
	const key = path[depth]!;
	const where = formatPath(path.slice(0, depth + 1));
	if (Array.isArray(node)) {
		const index = typeof key === "number" ? key : node.findIndex((entry) => isNamed(entry, key));
		const at = index === -1 && /^\d+$/.test(String(key)) ? Number(key) : index;
		if (!(at >= 0 && at < node.length))
			throw new RangeError(
				`path '${where}': no such entry, expected an index below ${node.length} or one of the names ${names(node)}`,
			);
		return node.map((entry, i) => (i === at ? place(entry, path, depth + 1, value) : entry));
	}
	if (node !== undefined && (node === null || typeof node !== "object"))
		throw new RangeError(`path '${where}': ${JSON.stringify(node)} has nothing inside, expected a group`);
	if (typeof key === "number") throw new RangeError(`path '${where}': expected a list there`);
	const group = (node ?? {}) as Record<string, unknown>;
	const old = Object.hasOwn(group, key) ? group[key] : undefined;
	return { ...group, [key]: place(old, path, depth + 1, value) };
}

const isNamed = (entry: unknown, name: string): boolean =>
	entry !== null && typeof entry === "object" && (entry as { name?: unknown }).name === name;

const names = (list: readonly unknown[]): string =>
	list.map((entry) => String((entry as { name?: unknown } | null)?.name ?? "unnamed")).join(", ");
