import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build, preview } from "vite";

export interface BuiltPage {
	readonly url: string;
	close(): Promise<void>;
}

/** Builds the page into a folder of its own and serves it, headers and all, on a free port. */
export async function buildAndServe(): Promise<BuiltPage> {
	const outDir = mkdtempSync(join(tmpdir(), "levelhead-page-"));
	// The test runner's own NODE_ENV would build a page for development.
	const before = process.env["NODE_ENV"];
	process.env["NODE_ENV"] = "production";
	await build({ logLevel: "warn", build: { outDir, emptyOutDir: true } });
	if (before === undefined) delete process.env["NODE_ENV"];
	else process.env["NODE_ENV"] = before;
	const server = await preview({
		logLevel: "warn",
		build: { outDir },
		preview: { port: 0, host: "127.0.0.1" },
	});
	const address = server.httpServer.address();
	if (address === null || typeof address === "string") throw new Error("the preview server has no port");
	return {
		url: `http://localhost:${address.port}/`,
		async close() {
			await server.close();
			rmSync(outDir, { recursive: true, force: true });
		},
	};
}
