/**
 * Remembers what was made for an owner, which is never changed after it is made, for as long as it is there.
 * @param most things kept for one owner; one more and it begins anew
 */
export function keptFor<V>(most: number): (owner: object, key: string, make: () => V) => V {
	const all = new WeakMap<object, Map<string, V>>();
	return (owner, key, make) => {
		let known = all.get(owner);
		if (!known) {
			known = new Map();
			all.set(owner, known);
		}
		let found = known.get(key);
		if (found === undefined) {
			if (known.size >= most) known.clear();
			found = make();
			known.set(key, found);
		}
		return found;
	};
}
