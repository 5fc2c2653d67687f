import { afterEach, beforeEach, expect, test } from "vitest";
import { processIo } from "../../src/cli/io.ts";

const before = { isTTY: process.stdout.isTTY, columns: process.stdout.columns, env: { ...process.env } };

beforeEach(() => {
	delete process.env["NO_COLOR"];
	process.env["TERM"] = "xterm";
});
afterEach(() => {
	process.stdout.isTTY = before.isTTY;
	process.stdout.columns = before.columns;
	process.env = { ...before.env };
});

test("colour on a terminal only, never with NO_COLOR (no-color.org: set and not empty) or a dumb one", () => {
	process.stdout.isTTY = true;
	expect(processIo().colour).toBe(true);
	process.env["NO_COLOR"] = "1";
	expect(processIo().colour).toBe(false);
	process.env["NO_COLOR"] = "";
	expect(processIo().colour).toBe(true);
	process.env["TERM"] = "dumb";
	expect(processIo().colour).toBe(false);
	process.env["TERM"] = "xterm";
	process.stdout.isTTY = false;
	expect(processIo().colour).toBe(false);
});

test("lines are as wide as the terminal, at most 120, 100 without one", () => {
	process.stdout.columns = 80;
	expect(processIo().width).toBe(80);
	process.stdout.columns = 300;
	expect(processIo().width).toBe(120);
	for (const unknown of [undefined, 0]) {
		(process.stdout as { columns: number | undefined }).columns = unknown;
		expect(processIo().width).toBe(100);
	}
});

test("reading from what is not there keeps the file system's code; listing it gives nothing", () => {
	const io = processIo();
	expect(() => io.readFile("/no-such-folder/x")).toThrow(expect.objectContaining({ code: "ENOENT" }));
	expect(io.list("/no-such-folder")).toEqual([]);
});
