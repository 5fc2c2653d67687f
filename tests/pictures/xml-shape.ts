/** Throws unless the text is one well-nested XML element with quoted attributes and escaped text. Gives element counts. */
export function xmlShape(text: string): Map<string, number> {
	const open: string[] = [];
	const counts = new Map<string, number>();
	const token = /<(\/?)([a-zA-Z]+)((?:\s+[a-zA-Z][\w:-]*="[^"<]*")*)\s*(\/?)>|([^<]+)/gy;
	while (token.lastIndex < text.length) {
		const at = token.lastIndex;
		const match = token.exec(text);
		if (!match) throw new Error(`XML: cannot read ${JSON.stringify(text.slice(at, at + 60))}`);
		const [, close, name, attributes, self, words] = match;
		for (const part of [words, attributes])
			if (part && /&(?!(amp|lt|gt|quot|#39);)/.test(part)) throw new Error(`XML: bare & in ${part}`);
		if (words !== undefined) {
			if (open.length === 0 && words.trim() !== "") throw new Error(`XML: text outside: ${words}`);
			continue;
		}
		if (close) {
			if (open.pop() !== name) throw new Error(`XML: </${name}> closes something else`);
			continue;
		}
		counts.set(name!, (counts.get(name!) ?? 0) + 1);
		if (!self) open.push(name!);
	}
	if (open.length > 0) throw new Error(`XML: not closed: ${open.join(" ")}`);
	return counts;
}
