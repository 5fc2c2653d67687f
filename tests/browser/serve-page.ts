import type { TestProject } from "vitest/node";
import { buildAndServe } from "./built-page.ts";

declare module "vitest" {
	export interface ProvidedContext {
		/** Where the built page is served while tests run. */
		pageUrl: string;
	}
}

/** The page as it is shipped, built once for all files. */
export default async function servePage(project: TestProject): Promise<() => Promise<void>> {
	const { url, close } = await buildAndServe();
	project.provide("pageUrl", url);
	return close;
}
