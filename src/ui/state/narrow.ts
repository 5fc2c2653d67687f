import { signal } from "@preact/signals";

const query = matchMedia("(max-width: 640px)");

/** The page is a phone's. */
export const narrow = signal(query.matches);
query.addEventListener("change", () => {
	narrow.value = query.matches;
});
