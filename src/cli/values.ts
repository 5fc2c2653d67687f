import { BadInput } from "./errors.ts";

/** An option that takes a number. */
export const numberOption =
	(name: string, meaning: string, accepts: (value: number) => boolean = () => true) =>
	(text: string): number => {
		const value = parseNumber(text);
		if (value === null || !accepts(value)) throw new BadInput(`${name} '${text}': expected ${meaning}`);
		return value;
	};

/** An option that takes polynomial coefficients, from the highest power down. */
export const listOption =
	(name: string) =>
	(text: string): number[] => {
		const parts = text.split(/[,\s]+/).filter((part) => part !== "");
		if (parts.length === 0)
			throw new BadInput(
				`${name} '${text}': expected numbers from the highest power down`,
				`Such as ${name} 1,3,3,1`,
			);
		return parts.map((part) => {
			const value = parseNumber(part);
			if (value === null)
				throw new BadInput(
					`${name} '${text}': '${part}' is not a number`,
					`Numbers from the highest power down, separated by commas, such as ${name} 1,3,3,1`,
				);
			return value;
		});
	};

/** Decimal notation only, whole text, finite; else null. */
export function parseNumber(text: string): number | null {
	if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text.trim())) return null;
	const value = Number(text);
	return Number.isFinite(value) ? value : null;
}
