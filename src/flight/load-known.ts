/**
 * What the firmware takes for carried, as a flight goes on: mass, and the moments (mass times place, forward and right) of what has left
 * unnoticed, where it was as it left.
 */
export const KNOWN = { massKg: 0, moment: 1, length: 3 } as const;
