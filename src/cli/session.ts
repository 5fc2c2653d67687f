import type { Command } from "commander";
import type { Io } from "./io.ts";

/** One run of the command line. */
export interface Session {
	readonly io: Io;
	/** Set by the verb. */
	exit: number;
}

/** Makes the command that a word of the command line stands for. */
export type Verb = (session: Session) => Command;
