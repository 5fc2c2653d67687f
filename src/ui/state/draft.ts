import { useState } from "preact/hooks";

/** What is being typed into a form that is not sent yet: kept in this tab, also over a reload. */
export function useDraft<T>(name: string, empty: T): readonly [T, (to: T) => void] {
	const key = `levelhead.draft.${name}`;
	const [draft, setDraft] = useState<T>(() => {
		try {
			const text = sessionStorage.getItem(key);
			return text === null ? empty : (JSON.parse(text) as T);
		} catch {
			return empty;
		}
	});
	const keep = (to: T): void => {
		setDraft(to);
		try {
			sessionStorage.setItem(key, JSON.stringify(to));
		} catch {
			// The browser keeps nothing: what was typed stays until the page is left.
		}
	};
	return [draft, keep];
}
