import { effect, signal } from "@preact/signals";
import { DEMO, restart, scenario, state } from "../state/store.ts";
import { fromFragment } from "./share-link.ts";
import { keep, keptScenarios } from "./slots.ts";

/** Why nothing is kept at the moment; empty while all is well. */
export const keepingTrouble = signal("");

const QUIET_MS = 400;

/** A slot that no other tab holds: reloading finds it again, a copied tab gets another. */
async function slotOfThisTab(): Promise<string> {
	const remembered = sessionStorage.getItem("levelhead.slot");
	for (const slot of [remembered, null]) {
		const name = slot ?? crypto.randomUUID();
		const free = await new Promise<boolean>((resolve) => {
			void navigator.locks.request(`levelhead.slot.${name}`, { ifAvailable: true }, (lock) => {
				resolve(lock !== null);
				// Held until the tab is gone.
				return lock ? new Promise<void>(() => {}) : undefined;
			});
		});
		if (free) {
			sessionStorage.setItem("levelhead.slot", name);
			return name;
		}
	}
	return crypto.randomUUID();
}

/**
 * Takes up what a link carries, else what this tab or, for a new tab, this browser kept last; then keeps every change. A link's scenario
 * goes into a slot of its own: what was kept before stays kept.
 */
export async function startKeeping(): Promise<string> {
	let trouble = "";
	let slot = "";
	try {
		slot = await slotOfThisTab();
		const kept = keptScenarios(localStorage);
		const mine = kept.find((each) => each.slot === slot) ?? kept[0];
		if (mine) restart(mine.state);
	} catch {
		keepingTrouble.value = "This browser refuses to keep anything: save the scenario as a file.";
	}
	try {
		const shared = await fromFragment(location.hash);
		if (shared) {
			if (slot) slot = crypto.randomUUID();
			restart({ ...state.peek(), document: shared });
			history.replaceState(null, "", location.pathname + location.search);
		}
	} catch (error) {
		trouble = error instanceof Error ? error.message : String(error);
	}
	if (slot) keepFromNowOn(slot);
	return trouble;
}

function keepFromNowOn(slot: string): void {
	let timer: ReturnType<typeof setTimeout> | undefined;
	let due = false;
	const write = (): void => {
		due = false;
		const { document } = state.peek();
		keepingTrouble.value = keep(localStorage, slot, state.peek(), nameOf(document), Date.now());
	};
	effect(() => {
		// The demo as it came need not be kept.
		if (state.value.document === DEMO) return;
		due = true;
		clearTimeout(timer);
		timer = setTimeout(write, QUIET_MS);
	});
	addEventListener("pagehide", () => {
		// A field takes what is typed into it when it is left.
		if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur();
		if (due) write();
	});
}

const nameOf = (document: { readonly [key: string]: unknown }): string =>
	typeof document["name"] === "string" ? document["name"] : scenario.peek().name;
