import { defineConfig } from "vitest/config";
import type { Reporter } from "vitest/node";

/** Closes the run with one plain line that any build log reader understands. */
const closingLine: Reporter = {
	onTestRunEnd(modules) {
		let passed = 0;
		let failed = 0;
		for (const module of modules) {
			if (module.errors().length > 0) failed++;
			for (const test of module.children.allTests()) {
				if (test.result().state === "passed") passed++;
				else failed++;
			}
		}
		console.log(`\n${passed} passed, ${failed} failed`);
	},
};

export default defineConfig({
	test: {
		reporters: ["default", closingLine],
		projects: [
			{
				test: {
					name: "engine",
					include: ["tests/**/*.test.ts"],
					exclude: ["tests/browser/**"],
					setupFiles: ["tests/seeded.ts"],
					testTimeout: 120_000,
					pool: "forks",
				},
			},
			{
				// The page as it is served, in a real browser: built once for all files.
				test: {
					name: "browser",
					include: ["tests/browser/**/*.test.ts"],
					globalSetup: ["tests/browser/serve-page.ts"],
					testTimeout: 120_000,
					hookTimeout: 120_000,
					// One second is the default: on a busy machine that would test its speed.
					expect: { poll: { timeout: 30_000 } },
					pool: "forks",
					fileParallelism: false,
				},
			},
		],
	},
});
