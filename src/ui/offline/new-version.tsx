import { signal } from "@preact/signals";

/** A worker that holds a newer page than the one shown. */
const waiting = signal<ServiceWorker | null>(null);

/** Keeps the page for use without a network, and hears of newer ones. Without service workers the page works as any other. */
export async function keepOffline(): Promise<void> {
	if (!import.meta.env.PROD || !("serviceWorker" in navigator)) return;
	try {
		const registration = await navigator.serviceWorker.register("/sw.js");
		const look = (worker: ServiceWorker | null): void => {
			if (!worker) return;
			const installed = (): void => {
				// The very first installation is no news.
				if (worker.state === "installed" && navigator.serviceWorker.controller) waiting.value = worker;
			};
			worker.addEventListener("statechange", installed);
			installed();
		};
		look(registration.waiting);
		registration.addEventListener("updatefound", () => look(registration.installing));
	} catch {
		// Refused, as in a private window: then there is no offline copy, and nothing else is lost.
	}
}

/** The version at work, and a newer one if there is: never yesterday's engine in silence. */
export function Version() {
	return (
		<p class="version small quiet">
			levelhead {__VERSION__}
			{waiting.value ? (
				<button
					type="button"
					onClick={() => {
						navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
						waiting.value?.postMessage({ type: "SKIP_WAITING" });
					}}
				>
					A newer version is here: take it
				</button>
			) : null}
		</p>
	);
}
