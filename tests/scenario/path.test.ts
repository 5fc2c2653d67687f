import { expect, it } from "vitest";
import { formatPath, parsePath, setAt, valueAt } from "../../src/scenario/path.ts";

it("writes and reads paths", () => {
	for (const text of ["craft.mass", "drills[0].events[2].at", "gainSets.A.roll.kp"])
		expect(formatPath(parsePath(text))).toBe(text);
	expect(parsePath("a[12].b")).toEqual(["a", 12, "b"]);
	for (const text of ["", ".a", "a.", "a[x]", "a[1"]) expect(() => parsePath(text)).toThrow(RangeError);
});

it("sets without changing the original, sharing what is off the path", () => {
	const document = {
		a: [
			{ name: "x", b: 1 },
			{ name: "y", b: 2 },
		],
		c: { d: 3 },
	};
	const changed = setAt(document, parsePath("a.y.b"), 5) as typeof document;
	expect(changed.a[1]!.b).toBe(5);
	expect(document.a[1]!.b).toBe(2);
	expect(changed.c).toBe(document.c);
	expect(changed.a[0]).toBe(document.a[0]);
	expect(valueAt(changed, ["a", 1, "b"])).toBe(5);
	expect(valueAt(changed, ["toString"])).toBeUndefined();
});
