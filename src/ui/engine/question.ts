import { computed, type ReadonlySignal, signal } from "@preact/signals";
import { useLayoutEffect, useState } from "preact/hooks";

/**
 * What a question asks for now. It may read signals, and the props and state of the component that asks: a plain computed signal would keep to
 * the props and state of its first time, since only signals tell it of a change. Equal jobs are the same object.
 */
export function useQuestion<J>(question: () => J): ReadonlySignal<J> {
	const [self] = useState(() => {
		const latest = signal(question);
		let kept: { readonly key: string; readonly job: J } | null = null;
		const job = computed(() => {
			const next = latest.value();
			const key = JSON.stringify(next);
			if (kept?.key !== key) kept = { key, job: next };
			return kept.job;
		});
		return { latest, job };
	});
	useLayoutEffect(() => {
		self.latest.value = question;
	});
	return self.job;
}
