import { expect, it } from "vitest";
import { setKind } from "../../../src/ui/commands/set-kind.ts";
import { craftOf, done, readState } from "./on-demo.ts";

const timing = (state: ReturnType<typeof done>) => craftOf(state)["timing"] as Record<string, unknown>;

it("keeps of a group what its new kind has, and takes it out for none", () => {
	const path = "craft.timing.attitude";
	const loop = done(setKind(path, "source", "loop", []));
	expect(timing(loop)["attitude"]).toEqual({ source: "loop" });
	expect(readState(loop).craft.timing.attitude).toEqual({ kind: "loop" });
	const fused = done(setKind(path, "source", "fused", ["period"]));
	expect(timing(fused)["attitude"]).toEqual({ source: "fused", period: "100 Hz" });
	expect(timing(done(setKind(path, "source", undefined, [])))).not.toHaveProperty("attitude");
});
