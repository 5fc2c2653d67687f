import { signal } from "@preact/signals";

/** A pointer is down somewhere on the page: something may be being dragged. */
export const pointerHeld = signal(false);

const put = (held: boolean) => (): void => {
	pointerHeld.value = held;
};
addEventListener("pointerdown", put(true), { capture: true, passive: true });
for (const end of ["pointerup", "pointercancel"] as const)
	addEventListener(end, put(false), { capture: true, passive: true });
// The window's own, not that of a field in it.
addEventListener("blur", put(false));
