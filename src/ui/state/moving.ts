import { computed, effect, signal } from "@preact/signals";
import { pointerHeld } from "./held.ts";
import { scenarioText } from "./store.ts";

/** A pointer that is held but has changed nothing for so long rests. */
const REST_MS = 300;

/** The document as text when nothing was held last, and when it rested last. */
const before = signal(scenarioText.peek());
const rested = signal(scenarioText.peek());

/** Something has been dragged and is not let go yet. */
export const dragged = computed(() => pointerHeld.value && scenarioText.value !== before.value);

/** It does not rest either: what takes longer than a drag waits. */
export const moving = computed(() => dragged.value && scenarioText.value !== rested.value);

/** The document as text, as it rested last while something moves. */
export const restingText = computed(() => (moving.value ? rested.value : scenarioText.value));

effect(() => {
	const text = scenarioText.value;
	if (!pointerHeld.value) {
		before.value = text;
		rested.value = text;
		return undefined;
	}
	const timer = setTimeout(() => {
		rested.value = text;
	}, REST_MS);
	return () => clearTimeout(timer);
});
