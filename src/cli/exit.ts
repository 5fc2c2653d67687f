/** What the command line ends with; listed in docs/json.md. */
export const EXIT = {
	fine: 0,
	/** The craft or the gains fail their limits. */
	fails: 1,
	badInput: 2,
	/** A fault of this program. */
	internal: 70,
	/** Ctrl-C: what was computed is printed first. */
	interrupted: 130,
} as const;
