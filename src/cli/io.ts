import { readdirSync, readFileSync, writeFileSync } from "node:fs";

/** Everything of the machine that a verb touches; tests give their own. */
export interface Io {
	out(text: string): void;
	err(text: string): void;
	/** Whether stdout takes colour: on a terminal only, and not where NO_COLOR (no-color.org) is set and not empty. */
	readonly colour: boolean;
	/** Whether stderr is a terminal, so that a line may be drawn over. */
	readonly drawsOver: boolean;
	/** Characters in a line of stdout. */
	readonly width: number;
	/** Throws Node's own error with its code. */
	readFile(path: string): string;
	writeFile(path: string, text: string): void;
	/** Names in a folder; empty where it cannot be read. */
	list(path: string): string[];
	/** Calls back on Ctrl-C until the returned function is called. */
	onInterrupt(listener: () => void): () => void;
	now(): number;
	readonly debug: boolean;
}

export function processIo(): Io {
	// A reader that has seen enough (`| head`) is no error.
	for (const stream of [process.stdout, process.stderr])
		stream.on("error", (error: NodeJS.ErrnoException) => {
			if (error.code === "EPIPE") process.exit();
			throw error;
		});
	return {
		out: (text) => void process.stdout.write(text),
		err: (text) => void process.stderr.write(text),
		colour: process.stdout.isTTY === true && !process.env["NO_COLOR"] && process.env["TERM"] !== "dumb",
		drawsOver: process.stderr.isTTY === true,
		// Some terminals that do not know how wide they are say 0.
		width: Math.min(process.stdout.columns || 100, 120),
		readFile: (path) => readFileSync(path, "utf8"),
		writeFile: (path, text) => writeFileSync(path, text),
		list(path) {
			try {
				return readdirSync(path);
			} catch {
				return [];
			}
		},
		onInterrupt(listener) {
			process.once("SIGINT", listener);
			return () => process.off("SIGINT", listener);
		},
		now: () => performance.now(),
		debug: Boolean(process.env["LEVELHEAD_DEBUG"]),
	};
}
