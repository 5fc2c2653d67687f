import { type Command, Option } from "commander";
import { AXES } from "../control/spec.ts";
import { BadInput } from "./errors.ts";
import type { Io } from "./io.ts";
import { save } from "./output.ts";

export interface PlotOptions {
	readonly plot?: string;
	readonly plotKind?: string;
}

/** `--plot FILE.svg`, and `--plot-kind` where there are several; the first kind is the default. */
export function addPlotOptions(command: Command, kinds: readonly string[]): Command {
	command.option("--plot <file.svg>", `draw as SVG: ${kinds.join(", ")}`, svgPath);
	if (kinds.length > 1)
		command.addOption(
			new Option("--plot-kind <kind>", `which picture --plot draws (default ${kinds[0]})`)
				.choices(kinds)
				.implies({}),
		);
	return command;
}

/** Whose step `--plot` draws. */
export const stepAxisOption = (): Option =>
	new Option("--axis <axis>", "which axis the step picture shows (default: the one that moves most)").choices(
		AXES,
	);

function svgPath(path: string): string {
	if (!/\.svg$/i.test(path))
		throw new BadInput(`--plot '${path}': expected a file name that ends in .svg`, "Such as --plot step.svg");
	return path;
}

/** A kind of picture and no file to draw it to: said before any work is done. */
export function checkPlotOptions({ plot, plotKind }: PlotOptions): void {
	if (plotKind !== undefined && plot === undefined)
		throw new BadInput(`--plot-kind ${plotKind} without --plot: nothing to draw to`, "Add --plot FILE.svg");
}

/** Draws what was asked for, if anything was. */
export function plotIfAsked<Kind extends string>(
	io: Io,
	options: PlotOptions,
	kinds: { readonly [K in Kind]: () => string },
): void {
	if (options.plot === undefined) return;
	const kind = (options.plotKind ?? Object.keys(kinds)[0]) as Kind;
	save(io, options.plot, kinds[kind](), `${kind} picture`);
}
