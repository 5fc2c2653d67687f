import { Command, CommanderError } from "commander";
import { BadInput } from "./errors.ts";
import { EXIT } from "./exit.ts";
import type { Io } from "./io.ts";
import { checkPlotOptions } from "./plot.ts";
import type { Session } from "./session.ts";
import { meant } from "./suggest.ts";
import { paragraph } from "./text.ts";
import { VERBS } from "./verbs.ts";
import { VERSION } from "./version.ts";

const AFTER_HELP = `
The main job, in this order:
  levelhead check  my-craft.json                     what was built, and can it hover?
  levelhead tune   my-craft.json --character even    gains to start with, and why those
  levelhead fly    my-craft.json --drill NAME        what they do in a test flight
  levelhead margins my-craft.json                    how far they are from trouble

'levelhead demo' shows it on an invented craft. 'levelhead VERB --help' gives options and examples.
Results go to stdout, progress and warnings to stderr. Exit code: 0 fine, 1 the craft or the gains
fail their limits, 2 the input cannot be used, 130 stopped by Ctrl-C, 70 a fault of this program.

A simulation is not evidence that a craft is safe. Propellers off for every bench check.
`;

/** Runs one command line (without node and script) and gives its exit code. Never throws. */
export async function main(argv: readonly string[], io: Io): Promise<number> {
	const session: Session = { io, exit: EXIT.fine };
	try {
		if (argv.length === 0) {
			const program = await buildProgram(session, Object.keys(VERBS));
			io.err(program.helpInformation() + AFTER_HELP);
			return EXIT.badInput;
		}
		const called = argv[0]!;
		if (!called.startsWith("-") && called !== "help" && !Object.hasOwn(VERBS, called))
			throw new BadInput(`unknown verb '${called}'`, meant(called, Object.keys(VERBS)));
		const verbs = Object.hasOwn(VERBS, called) ? [called] : Object.keys(VERBS);
		const program = await buildProgram(session, verbs);
		await program.parseAsync([...argv], { from: "user" });
		return session.exit;
	} catch (error) {
		return explain(error, io);
	}
}

async function buildProgram(session: Session, verbs: readonly string[]): Promise<Command> {
	const { io } = session;
	const program = new Command("levelhead")
		.description("Choose a home-built quadcopter's PID gains before its first hover.")
		.version(VERSION, "-V, --version", "print the version")
		.helpOption("-h, --help", "show this help")
		.addHelpText("after", AFTER_HELP);
	for (const name of verbs) program.addCommand((await VERBS[name]!())(session));
	program.hook("preAction", (_program, verb) => checkPlotOptions(verb.opts()));
	program.helpCommand("help [verb]", "the same as VERB --help");
	for (const command of [program, ...program.commands])
		command
			.helpOption("-h, --help", "show this help")
			.exitOverride()
			.showSuggestionAfterError(true)
			.configureHelp({ helpWidth: io.width })
			.configureOutput({
				writeOut: (text) => io.out(text),
				writeErr: (text) => io.err(text),
				outputError: () => {},
				getOutHelpWidth: () => io.width,
				getErrHelpWidth: () => io.width,
				getOutHasColors: () => io.colour,
				getErrHasColors: () => false,
			});
	return program;
}

function explain(error: unknown, io: Io): number {
	if (error instanceof CommanderError) {
		if (error.exitCode === 0) return EXIT.fine;
		io.err(`levelhead: ${error.message.replace(/^error: /, "")}\n`);
		if (!/\bhelp\b/.test(error.message))
			io.err("  'levelhead --help' lists the verbs, 'levelhead VERB --help' its options.\n");
		return EXIT.badInput;
	}
	if (error instanceof BadInput) {
		io.err(`levelhead: ${error.message}\n`);
		if (error.hint) io.err(paragraph(error.hint, io.width, 2));
		return EXIT.badInput;
	}
	const known = error instanceof Error ? error : new Error(String(error));
	io.err(
		`levelhead: a fault of this program, not of your input: ${known.message}\n` +
			"  Please report it with the command line and the file. LEVELHEAD_DEBUG=1 prints where it happened.\n",
	);
	if (io.debug) io.err(`${known.stack}\n`);
	return EXIT.internal;
}
