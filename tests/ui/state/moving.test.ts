import { afterEach, beforeEach, expect, test, vi } from "vitest";

vi.stubGlobal("addEventListener", () => {});
const { pointerHeld } = await import("../../../src/ui/state/held.ts");
const { dragged, moving, restingText } = await import("../../../src/ui/state/moving.ts");
const { DEMO, restart, run, scenarioText } = await import("../../../src/ui/state/store.ts");
const { setValue } = await import("../../../src/ui/commands/set-value.ts");
const { FIRST_VIEW } = await import("../../../src/ui/state/first-view.ts");

const drag = (lag: string): void => run(setValue("craft.motors.lagUp", lag, "lag", "drag lag"));

beforeEach(() => {
	vi.useFakeTimers();
	pointerHeld.value = false;
	restart({ document: DEMO, view: FIRST_VIEW });
});
afterEach(() => {
	vi.useRealTimers();
});

test("nothing moves where nothing is held, whatever changes", () => {
	drag("70 ms");
	expect(moving.value).toBe(false);
	expect(restingText.value).toBe(scenarioText.value);
});

test("a pointer that is held and changes something drags it; what waits has the text of before until it rests", () => {
	const before = scenarioText.value;
	pointerHeld.value = true;
	expect([dragged.value, moving.value]).toEqual([false, false]);
	drag("70 ms");
	expect([dragged.value, moving.value]).toEqual([true, true]);
	expect(scenarioText.value).not.toBe(before);
	expect(restingText.value).toBe(before);
	vi.advanceTimersByTime(200);
	drag("71 ms");
	vi.advanceTimersByTime(200);
	expect(moving.value).toBe(true);
	vi.advanceTimersByTime(200);
	expect([dragged.value, moving.value]).toEqual([true, false]);
	expect(restingText.value).toBe(scenarioText.value);
	drag("72 ms");
	expect(moving.value).toBe(true);
});

test("let go, all is asked of what stands there at once", () => {
	pointerHeld.value = true;
	drag("70 ms");
	pointerHeld.value = false;
	expect([dragged.value, moving.value]).toEqual([false, false]);
	expect(restingText.value).toBe(scenarioText.value);
	pointerHeld.value = true;
	expect(dragged.value).toBe(false);
});
