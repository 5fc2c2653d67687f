/** A number with so many significant digits, never in powers of ten between 1e-4 and 1e6. */
export function digits(value: number, count = 3): string {
	if (value === 0) return "0";
	const size = Math.abs(value);
	if (size < 1e-4 || size >= 1e6) return value.toExponential(count - 1);
	const decimals = Math.max(0, count - 1 - Math.floor(Math.log10(size)));
	return value.toFixed(decimals);
}

/** With fixed decimals, '-' for none. */
export function fixed(value: number | null | undefined, decimals: number): string {
	if (value === null || value === undefined) return "-";
	const text = value.toFixed(decimals);
	return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** One or many: 'no errors', '1 error', '3 errors'. */
export const many = (count: number, word: string): string =>
	`${count === 0 ? "no" : count} ${word}${count === 1 ? "" : "s"}`;
