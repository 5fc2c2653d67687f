import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import { FILES } from "./sample.ts";

const BIN = fileURLToPath(new URL("../../src/cli/levelhead.mjs", import.meta.url));
let folder = "";

beforeAll(() => {
	folder = mkdtempSync(join(tmpdir(), "levelhead cli-"));
	writeFileSync(join(folder, "sample.json"), FILES["sample.json"]);
});
afterAll(() => rmSync(folder, { recursive: true }));

function call(argv: readonly string[], env: NodeJS.ProcessEnv = {}) {
	return spawnSync(process.execPath, [BIN, ...argv], {
		cwd: folder,
		encoding: "utf8",
		env: { ...process.env, ...env },
	});
}

test("a real process, called from another folder whose name has a blank", () => {
	const { stdout, stderr, status } = call(["fly", "sample.json", "--json", "--out", "trace.csv"], {
		FORCE_COLOR: "1",
	});
	expect(status).toBe(0);
	expect(JSON.parse(stdout)).toMatchObject({
		status: "completed",
		madeBy: { scenario: { file: "sample.json" } },
	});
	expect(stderr).toBe("trace written to trace.csv\n");
});

test("exit codes reach the shell; no colour in a pipe, even when it is asked for", () => {
	const wrong = call(["fly", "nothing.json"]);
	expect(wrong.status).toBe(2);
	expect(wrong.stdout).toBe("");
	expect(wrong.stderr).toMatch(/^levelhead: cannot read 'nothing.json'/);
	const unstable = call(["loop", "--num", "100", "--den", "0.02,0.3,1,0"], { FORCE_COLOR: "1" });
	expect(unstable.status).toBe(1);
	expect(unstable.stdout).not.toContain("\u001b");
});

test("a reader that has seen enough is no error", () => {
	const { status, stderr, stdout } = spawnSync(
		"sh",
		["-c", `"$0" "$1" loop --num 3 --den 1,3,3,1 | head -n 1`, process.execPath, BIN],
		{ cwd: folder, encoding: "utf8" },
	);
	expect(stdout).toBe("Loop  L(s) = 3 / (s^3 + 3 s^2 + 3 s + 1)\n");
	expect(stderr).toBe("");
	expect(status).toBe(0);
});

test("Ctrl-C on a sweep: partial results on stdout, exit 130", async () => {
	const child: ChildProcess = spawn(
		process.execPath,
		[
			BIN,
			"sweep",
			"sample.json",
			"--over",
			"craft.mass=1..1.4:800",
			"--drill",
			"side gust",
			"--workers",
			"1",
			"--csv",
		],
		{ cwd: folder },
	);
	let out = "";
	let err = "";
	child.stdout!.on("data", (data) => {
		out += String(data);
	});
	child.stderr!.on("data", (data) => {
		err += String(data);
		if (!child.killed && err.includes("of 800")) child.kill("SIGINT");
	});
	const code = await new Promise((resolve) => child.on("close", resolve));
	expect(code).toBe(130);
	const rows = out.trim().split("\n").length - 1;
	expect(rows).toBeGreaterThanOrEqual(200);
	expect(rows).toBeLessThan(800);
	expect(err).toMatch(new RegExp(`^stopped: ${rows} of 800 cells are here$`, "m"));
});
