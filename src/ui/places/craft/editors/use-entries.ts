import { useRef, useState } from "preact/hooks";

/** Which entry of a list has just been added; where the keyboard goes when one is taken out. */
export function useEntries() {
	const [{ added, generation }, set] = useState({ added: -1, generation: 0 });
	const addButton = useRef<HTMLButtonElement>(null);
	return {
		addButton,
		isNew: (index: number): boolean => index === added,
		/** Entries that moved up or down are drawn anew: none stays open in the place of another. */
		keyOf: (index: number): string => `${generation}.${index}`,
		onAdded: (index: number): void => set({ added: index, generation: generation + 1 }),
		onRemoved: (): void => {
			set({ added: -1, generation: generation + 1 });
			addButton.current?.focus();
		},
	};
}
