/** Where JSON text breaks the rules of RFC 8259, in words; line and column from 1. */
export interface JsonFault {
	readonly line: number;
	readonly column: number;
	readonly found: string;
	readonly expected: string;
	readonly hint: string;
}

const DEEPEST = 60;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids these very characters in strings
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORDS = ["true", "false", "null"];

class Fault extends Error {
	readonly at: number;
	readonly expected: string;
	readonly hint: string;
	constructor(at: number, expected: string, hint = "") {
		super(expected);
		this.at = at;
		this.expected = expected;
		this.hint = hint;
	}
}

/** Without the byte order mark that some editors write; RFC 8259 lets a reader pass over it. */
export const withoutMark = (text: string): string => (text.startsWith("\ufeff") ? text.slice(1) : text);

/** The first fault of a JSON text, repeated keys and too deep nesting included; null where there is none. */
export function findFault(text: string): JsonFault | null {
	try {
		new Reader(text).all();
		return null;
	} catch (error) {
		if (!(error instanceof Fault)) throw error;
		const before = text.slice(0, error.at).split("\n");
		const rest = text.slice(error.at);
		const found =
			rest === "" ? "the end of the file" : (/^(?:\w+|.)/.exec(rest)?.[0] ?? "the end of the line");
		return {
			line: before.length,
			column: before[before.length - 1]!.length + 1,
			found: found.length > 30 ? `${found.slice(0, 30)}...` : found,
			expected: error.expected,
			hint: error.hint,
		};
	}
}

class Reader {
	readonly text: string;
	at = 0;
	depth = 0;
	constructor(text: string) {
		this.text = text;
	}

	all(): void {
		this.blank();
		this.value();
		this.blank();
		if (this.at < this.text.length) throw new Fault(this.at, "nothing after the last bracket");
	}

	blank(): void {
		while (" \t\n\r".includes(this.text[this.at] ?? "x")) this.at++;
		if (this.text.startsWith("//", this.at) || this.text.startsWith("/*", this.at))
			throw new Fault(this.at, "no comment", 'JSON has no comments; use a "note"');
	}

	value(): void {
		const c = this.text[this.at];
		if (c === "{") this.group("}", () => this.pair(this.keys));
		else if (c === "[") this.group("]", () => this.value());
		else if (c === '"') this.string("text in quotes");
		else if (c === "'") throw new Fault(this.at, "a value", 'quotes are double: "');
		else if (!this.number() && !this.word())
			throw new Fault(
				this.at,
				"a value",
				/^[+.\dNI-]/.test(c ?? "") ? "numbers are written like 0.5 or 1e-3, with units in quotes" : "",
			);
	}

	keys = new Set<string>();

	group(close: string, entry: () => void): void {
		if (++this.depth > DEEPEST) throw new Fault(this.at, `at most ${DEEPEST} brackets inside each other`);
		const outer = this.keys;
		this.keys = new Set();
		this.at++;
		this.blank();
		if (this.text[this.at] !== close)
			for (;;) {
				entry();
				this.blank();
				if (this.text[this.at] === close) break;
				if (this.text[this.at] !== ",") throw new Fault(this.at, `"," or "${close}"`, this.missing(close));
				this.at++;
				this.blank();
				if (this.text[this.at] === close)
					throw new Fault(this.at, "another entry", "there is a comma too many before the bracket");
			}
		this.at++;
		this.keys = outer;
		this.depth--;
	}

	missing(close: string): string {
		if (this.at >= this.text.length) return `the file ends before its last "${close}": is it cut short?`;
		return this.text[this.at] === '"' ? "a comma is missing" : "";
	}

	pair(keys: Set<string>): void {
		const start = this.at;
		this.string("a key in double quotes");
		const key = JSON.parse(this.text.slice(start, this.at)) as string;
		if (keys.has(key)) throw new Fault(start, "each key once", `"${key}" stands twice in the same group`);
		keys.add(key);
		this.blank();
		if (this.text[this.at] !== ":") throw new Fault(this.at, '":" after the key');
		this.at++;
		this.blank();
		this.value();
	}

	string(expected: string): void {
		STRING.lastIndex = this.at;
		if (!STRING.test(this.text))
			throw new Fault(
				this.at,
				expected,
				this.text[this.at] === '"' ? "this text is not closed on its line, or has a wrong backslash" : "",
			);
		this.at = STRING.lastIndex;
	}

	number(): boolean {
		NUMBER.lastIndex = this.at;
		if (!NUMBER.test(this.text)) return false;
		const end = NUMBER.lastIndex;
		if (/[\w.]/.test(this.text[end] ?? ""))
			throw new Fault(this.at, "a number", 'a number with a unit goes in quotes, such as "520 mm"');
		if (!Number.isFinite(Number(this.text.slice(this.at, end))))
			throw new Fault(this.at, "a number below 1e308");
		this.at = end;
		return true;
	}

	word(): boolean {
		const word = WORDS.find((w) => this.text.startsWith(w, this.at));
		if (word === undefined) return false;
		this.at += word.length;
		return true;
	}
}
