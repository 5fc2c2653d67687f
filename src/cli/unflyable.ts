import { EXIT } from "./exit.ts";
import type { Io } from "./io.ts";

/** The craft cannot do what the question takes for granted: said on stderr, exit code 1. */
export function unflyable(io: Io, reason: string): number {
	io.err(`levelhead: the craft cannot hold itself up ${reason}\n  'levelhead check' says more.\n`);
	return EXIT.fails;
}
