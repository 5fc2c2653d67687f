#!/usr/bin/env node
// Builds the workbench and serves it on this machine. PORT chooses the port; a browser is opened only when a person is at a terminal.
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build, preview } from "vite";

const root = fileURLToPath(new URL("../..", import.meta.url));
const wanted = process.env.PORT;
if (wanted !== undefined && !/^\d{1,5}$/.test(wanted)) {
	console.error(`PORT '${wanted}': expected a port number such as 4180`);
	process.exit(2);
}

await build({ root, logLevel: "warn" });
const server = await preview({
	root,
	logLevel: "warn",
	preview: { port: Number(wanted ?? 4180), strictPort: wanted !== undefined, host: "localhost" },
}).catch((error) => {
	console.error(`levelhead cannot be served: ${error.message}`);
	process.exit(1);
});
const address = server.httpServer.address();
const url = `http://localhost:${address.port}/`;
console.log(`Levelhead is at ${url} (Ctrl-C ends it). A simulation is not evidence that a craft is safe.`);
if (process.stdout.isTTY && !process.env.CI) {
	const opener = { darwin: "open", win32: "explorer" }[process.platform] ?? "xdg-open";
	spawn(opener, [url], { stdio: "ignore", detached: true })
		.on("error", () => {})
		.unref();
}
for (const signal of ["SIGINT", "SIGTERM"])
	process.on(signal, () => server.close().then(() => process.exit(0)));
