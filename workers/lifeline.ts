/** What a worker posts once it holds its lifeline: the lock's name begins so. */
const LIFELINE = "levelhead.lifeline.";

/**
 * In a browser's worker: takes a lock for as long as it lives. The browser frees it when the worker ends, however it ends; no event says so of
 * one that was closed or stopped from outside.
 */
export function holdLifeline(say: (message: string) => void): void {
	// Not there where the page comes over plain HTTP from another machine.
	if (!("locks" in navigator)) return;
	// Of no other worker in this browser: when it began, and chance where two began together.
	const name = `${LIFELINE}${performance.timeOrigin}.${Math.random()}`;
	void navigator.locks.request(name, () => {
		say(name);
		return new Promise<never>(() => {});
	});
}

/** In the page: calls back when the worker has ended. */
export function watchLifeline(worker: Worker, onEnd: () => void): void {
	worker.addEventListener("message", ({ data }) => {
		// The lock is asked for only once the worker has it.
		if (typeof data === "string" && data.startsWith(LIFELINE)) void navigator.locks.request(data, onEnd);
	});
}
