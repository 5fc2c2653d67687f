import { loadScenario } from "../../scenario/load.ts";
import type { ScenarioDocument } from "../state/model.ts";

const MOST_BYTES = 4_000_000;

/** A file's scenario, or one sentence that says what is wrong with it. */
export async function readScenarioFile(
	file: Pick<File, "name" | "size" | "text">,
): Promise<{ readonly document: ScenarioDocument } | { readonly problem: string }> {
	if (file.size > MOST_BYTES)
		return {
			problem: `${file.name} has ${(file.size / 1e6).toFixed(1)} MB: expected a scenario file, below 4 MB`,
		};
	const text = await file.text();
	const loaded = loadScenario(text);
	if (loaded.ok) return { document: loaded.scenario.document as ScenarioDocument };
	const [first] = loaded.errors;
	const more = loaded.errors.length > 1 ? ` (and ${loaded.errors.length - 1} more)` : "";
	return { problem: `${file.name} cannot be used: ${first?.message ?? "no scenario in it"}${more}` };
}
