const ENTITIES: Readonly<Record<string, string>> = {
	"&": "&amp;",
	"<": "&lt;",
	">": "&gt;",
	'"': "&quot;",
	"'": "&#39;",
};

/** Text for XML; characters that XML forbids are dropped. */
export function escapeXml(text: string): string {
	return text
		.replace(/[&<>"']/g, (c) => ENTITIES[c]!)
		.replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, "");
}

/** An element; numbers with two decimals at most. */
export function element(
	name: string,
	attributes: Readonly<Record<string, string | number>>,
	content?: string,
): string {
	const written = Object.entries(attributes)
		.map(([key, value]) => ` ${key}="${typeof value === "number" ? pixels(value) : escapeXml(value)}"`)
		.join("");
	return content === undefined ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}

/** @throws RangeError for a number that is not finite: a drawing never holds one. */
export function pixels(value: number): string {
	if (!Number.isFinite(value)) throw new RangeError(`picture coordinate: ${value}, expected finite`);
	return String(Math.round(value * 100) / 100 + 0);
}
