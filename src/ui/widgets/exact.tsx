import type { ComponentChildren } from "preact";

/** A number as people read it, with all its figures for whoever reads the page by program. */
export function Exact({
	value,
	children,
}: {
	/** In the unit that stands beside it; null: there is none. */
	readonly value: number | null;
	readonly children: ComponentChildren;
}) {
	return value === null ? children : <data value={String(value)}>{children}</data>;
}
