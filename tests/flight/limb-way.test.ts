import { expect, it } from "vitest";
import sandpiper from "../../scenarios/sandpiper.json";
import { type LimbMove, nearMiss } from "../../src/flight/limb-way.ts";
import { loadDocument } from "../../src/scenario/load.ts";

const loaded = loadDocument(sandpiper);
if (!loaded.ok) throw new Error(loaded.errors[0]!.message);
const { craft } = loaded.scenario;
const to = (link: number, angleRad: number): LimbMove => ({ atSec: 0.5, kind: "limb", link, angleRad });

it("is found where a limb comes near a propeller, asked once or again, and follows limb, rotors and moves", () => {
	const clear = [to(0, 1)];
	const hit = [to(0, Math.PI), { ...to(1, 1), atSec: 4 }];
	const miss = nearMiss(craft, [0, 0], hit);
	expect(nearMiss(craft, [0, 0], clear)).toBeNull();
	expect(nearMiss(craft, [0, 0], hit)).toEqual(miss);
	// Discs brought down on to the limb's plane.
	const low = {
		...craft,
		rotors: craft.rotors.map((r) => ({ ...r, positionM: [r.positionM[0], r.positionM[1], 0.06] as const })),
	};
	expect(nearMiss(low, [0, 0], clear)).not.toBeNull();
	expect(nearMiss(craft, [0, 0], clear)).toBeNull();
});
