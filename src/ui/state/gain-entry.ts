import { signal } from "@preact/signals";

/** Gains shown and typed in the builder's own units; else in internal ones. */
export const asTyped = signal(true);
