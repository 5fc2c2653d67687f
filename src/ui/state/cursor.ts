import { signal } from "@preact/signals";

/** The instant of the flight that is pointed at, in seconds; null: none. Pictures, tables and the replay follow it. */
export const cursorSec = signal<number | null>(null);
