import type { Command } from "commander";

export interface SetOptions {
	readonly set?: string;
}

export interface PointOptions {
	readonly point?: string;
}

export function addFile(command: Command): Command {
	return command.argument("<file>", "scenario file (JSON): craft, gain sets, drills");
}

export function addSet(command: Command): Command {
	return command.option("--set <name>", "gain set (default: the first in the file)");
}

export function addPoint(command: Command): Command {
	return command.option("--point <name>", "operating point (default: the first in the file)");
}
