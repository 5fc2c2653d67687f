/** How the list of single changes is announced, and what an empty one means. */
export interface AlternativesWords {
	readonly title: string;
	readonly none: string;
}

export function alternativesWords(feasible: boolean): AlternativesWords {
	return feasible
		? { title: "What would buy more", none: "No single change that was tried would buy more." }
		: {
				title: "What would make it possible, cheapest first",
				none: "No single change that was tried is enough by itself.",
			};
}
