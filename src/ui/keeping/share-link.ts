import type { ScenarioDocument } from "../state/model.ts";

const MARK = "#s=";
/** A scenario of text longer than this is not unpacked: a link is no place for it. */
const MOST_BYTES = 4_000_000;

/** The part of a link from '#' on that carries a scenario: compressed, read by the page itself, sent to no server. */
export async function toFragment(document: ScenarioDocument): Promise<string> {
	const packed = await through(
		new TextEncoder().encode(JSON.stringify(document)),
		new CompressionStream("deflate-raw"),
	);
	let binary = "";
	for (const byte of packed) binary += String.fromCharCode(byte);
	return MARK + btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/** Null: no scenario in it. @throws RangeError where there is one that cannot be read. */
export async function fromFragment(fragment: string): Promise<ScenarioDocument | null> {
	if (!fragment.startsWith(MARK)) return null;
	try {
		const binary = atob(fragment.slice(MARK.length).replaceAll("-", "+").replaceAll("_", "/"));
		const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
		const text = new TextDecoder("utf-8", { fatal: true }).decode(
			await through(bytes, new DecompressionStream("deflate-raw")),
		);
		const document: unknown = JSON.parse(text);
		if (typeof document === "object" && document !== null && !Array.isArray(document))
			return document as ScenarioDocument;
	} catch {
		// Said below.
	}
	throw new RangeError("the link's scenario cannot be read: it was cut short or changed on the way");
}

async function through(
	bytes: Uint8Array<ArrayBuffer>,
	stream: CompressionStream | DecompressionStream,
): Promise<Uint8Array> {
	const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
	const parts: Uint8Array[] = [];
	let size = 0;
	for (;;) {
		const { done, value } = await reader.read();
		if (done) break;
		size += value.length;
		if (size > MOST_BYTES) throw new RangeError("too large");
		parts.push(value);
	}
	const whole = new Uint8Array(size);
	let at = 0;
	for (const part of parts) {
		whole.set(part, at);
		at += part.length;
	}
	return whole;
}
