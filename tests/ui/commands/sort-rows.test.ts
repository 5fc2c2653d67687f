import { expect, it } from "vitest";
import { setValue } from "../../../src/ui/commands/set-value.ts";
import { sortRows } from "../../../src/ui/commands/sort-rows.ts";
import { craftOf, done } from "./on-demo.ts";

it("sorts by the quantity, whatever it is written in; what cannot be read comes last", () => {
	const rows = [{ command: 1 }, {}, { command: "50 %" }, { command: 0.25 }, { command: "much" }];
	const state = done(
		setValue("craft.motors.bench", rows),
		sortRows("craft.motors.bench", "command", "fraction"),
	);
	expect((craftOf(state)["motors"] as { bench: unknown }).bench).toEqual([
		{ command: 0.25 },
		{ command: "50 %" },
		{ command: 1 },
		{},
		{ command: "much" },
	]);
});
