/** Examples below a verb's options. */
export function examples(...lines: readonly (readonly [command: string, meaning: string])[]): string {
	const width = Math.max(...lines.map(([command]) => command.length));
	return `\nExamples:\n${lines.map(([command, meaning]) => `  ${command.padEnd(width)}  ${meaning}\n`).join("")}`;
}
