import { effect, signal } from "@preact/signals";

export type ThemeChoice = "light" | "dark" | "as the system";

const KEY = "levelhead.theme";
const dark = matchMedia("(prefers-color-scheme: dark)");
const system = signal(dark.matches);
dark.addEventListener("change", () => {
	system.value = dark.matches;
});

function remembered(): ThemeChoice {
	try {
		const kept = localStorage.getItem(KEY);
		return kept === "light" || kept === "dark" ? kept : "as the system";
	} catch {
		return "as the system";
	}
}

export const themeChoice = signal<ThemeChoice>(remembered());

/** What pictures and page are drawn in. */
export const theme = signal<"light" | "dark">("light");

effect(() => {
	const choice = themeChoice.value;
	theme.value = choice === "as the system" ? (system.value ? "dark" : "light") : choice;
	document.documentElement.dataset["theme"] = theme.value;
	try {
		localStorage.setItem(KEY, choice);
	} catch {
		// Without storage the choice holds until the page is closed.
	}
});
