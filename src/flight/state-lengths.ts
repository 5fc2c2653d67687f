/** Seven asked values, how many losses are under way, and 1 or -1 where motors were asked live or safe meanwhile: asked.ts. */
export const ASKED_LENGTH = 9;

/** Freezes under way (2), what is added (6), what was said last (6): faults.ts. */
export const FAULT_LENGTH = 14;
