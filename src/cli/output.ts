import { type Command, Option } from "commander";
import { toJson } from "../report/json/write.ts";
import { type CsvCell, csv } from "./csv.ts";
import { BadInput } from "./errors.ts";
import type { Io } from "./io.ts";

export interface OutputOptions {
	readonly json?: boolean;
	readonly csv?: boolean;
}

/** One result, said in three ways; only the one asked for is made. */
export interface Output {
	readonly text: () => string;
	readonly json: () => unknown;
	readonly csv: () => { readonly header: readonly string[]; readonly rows: readonly (readonly CsvCell[])[] };
}

export function addOutputOptions(command: Command): Command {
	return command
		.addOption(new Option("--json", "print the result as JSON (docs/json.md)").conflicts("csv"))
		.addOption(new Option("--csv", "print the main table as CSV"));
}

export function emit(io: Io, options: OutputOptions, output: Output): void {
	if (options.json) io.out(toJson(output.json()));
	else if (options.csv) {
		const { header, rows } = output.csv();
		io.out(csv(header, rows));
	} else io.out(output.text());
}

/** Writes a file that the person named, and says so on stderr. */
export function save(io: Io, path: string, text: string, what: string): void {
	try {
		io.writeFile(path, text);
	} catch (error) {
		if (!(error as NodeJS.ErrnoException).code) throw error;
		throw new BadInput(`cannot write ${what} to '${path}': ${reason(error)}`);
	}
	io.err(`${what} written to ${path}\n`);
}

/** What the file system said, in words. */
export function reason(error: unknown): string {
	const { code, message } = error as { code?: string; message?: string };
	switch (code) {
		case "ENOENT":
			return "no such file or folder";
		case "EISDIR":
			return "it is a folder";
		case "ENOTDIR":
			return "a part of the path is not a folder";
		case "EACCES":
		case "EPERM":
			return "no permission";
		case "ENOSPC":
			return "the disk is full";
		default:
			return message ?? String(error);
	}
}
