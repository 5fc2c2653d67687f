import { expect, it } from "vitest";
import { STILL_AIR } from "../../../src/flight/drill.ts";
import { windAt } from "../../../src/ui/three/replay-wind.ts";

it("is the drill's mean wind, else the operating point's, and the gusts on top", () => {
	const gusts = [{ atSec: 1, velocityMPerSec: [0, 4, 0] as const, riseSec: 0.5, ending: "returns" as const }];
	expect(windAt({ ...STILL_AIR, gusts }, [3, 0, 0], 0)).toEqual([3, 0, 0]);
	expect(windAt({ ...STILL_AIR, gusts }, [3, 0, 0], 1.5)[1]).toBeCloseTo(4, 12);
	expect(windAt({ ...STILL_AIR, meanMPerSec: [0, 2, 0] }, [3, 0, 0], 0)).toEqual([0, 2, 0]);
});
