import { expect, test } from "vitest";
import { keptFor } from "../../src/analysis/kept.ts";

test("made once for an owner and a key; too many, and it begins anew", () => {
	const kept = keptFor<number>(2);
	const [one, other] = [{}, {}];
	let made = 0;
	const make = () => ++made;
	expect([kept(one, "a", make), kept(one, "a", make), kept(one, "b", make), kept(other, "a", make)]).toEqual([
		1, 1, 2, 3,
	]);
	expect(kept(one, "c", make)).toBe(4);
	expect(kept(one, "a", make)).toBe(5);
	expect(kept(other, "a", make)).toBe(3);
});
