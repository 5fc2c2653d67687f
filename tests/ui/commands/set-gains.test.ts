import { expect, it } from "vitest";
import { loadDocument } from "../../../src/scenario/load.ts";
import { setGains } from "../../../src/ui/commands/set-gains.ts";
import { begin, perform, undo } from "../../../src/ui/state/history.ts";
import { DEMO_STATE } from "../sample.ts";

it("moves two gains of an axis, and a whole drag is one step of undo", () => {
	let history = begin(DEMO_STATE);
	for (const kp of [0.05, 0.06, 0.07])
		history = perform(history, setGains("A", "roll", { kp, ki: 2 * kp }, "drag 1"));
	const loaded = loadDocument(history.present.document);
	if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
	expect(loaded.scenario.gainSets[0]!.roll).toMatchObject({ kp: 0.07, ki: 0.14 });
	expect(history.past.map((step) => step.name)).toEqual(["kp and ki of roll, set A"]);
	expect(undo(history).present).toEqual(DEMO_STATE);
});
