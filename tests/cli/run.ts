import { readdirSync, readFileSync } from "node:fs";
import type { Io } from "../../src/cli/io.ts";
import { main } from "../../src/cli/main.ts";

export interface Run {
	readonly code: number;
	readonly out: string;
	readonly err: string;
	/** What was written, by path. */
	readonly files: { readonly [path: string]: string };
}

export interface RunOptions {
	/** Files that exist besides the real ones. */
	readonly files?: { readonly [path: string]: string };
	readonly colour?: boolean;
	readonly drawsOver?: boolean;
	/** Called after every write to stderr; may press Ctrl-C. */
	readonly watch?: (err: string, interrupt: () => void) => void;
	readonly debug?: boolean;
	/** Thrown by every attempt to write a file, as no file system would. */
	readonly failWrites?: Error;
}

/** One command line in this process, everything captured; nothing is written to disk. */
export async function run(argv: readonly string[], options: RunOptions = {}): Promise<Run> {
	let out = "";
	let err = "";
	const files: Record<string, string> = {};
	const interrupts = new Set<() => void>();
	const io: Io = {
		out: (text) => {
			out += text;
		},
		err: (text) => {
			err += text;
			options.watch?.(err, () => {
				for (const each of interrupts) each();
			});
		},
		colour: options.colour ?? false,
		drawsOver: options.drawsOver ?? false,
		width: 100,
		readFile: (path) => files[path] ?? options.files?.[path] ?? readFileSync(path, "utf8"),
		writeFile(path, text) {
			if (options.failWrites) throw options.failWrites;
			if (path.includes("/no-such-folder/")) throw Object.assign(new Error("ENOENT"), { code: "ENOENT" });
			files[path] = text;
		},
		list(path) {
			try {
				return readdirSync(path);
			} catch {
				return [];
			}
		},
		onInterrupt(listener) {
			interrupts.add(listener);
			return () => interrupts.delete(listener);
		},
		now: () => performance.now(),
		debug: options.debug ?? false,
	};
	const code = await main(argv, io);
	return { code, out, err, files };
}

/** The run's JSON, which must be the whole of stdout. */
export const json = (result: Run): unknown => JSON.parse(result.out);
