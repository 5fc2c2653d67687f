/** A polynomial as people write it, highest power first: 's^3 + 3 s^2 - 1'. */
export function polynomialText(coefficients: readonly number[], variable: string): string {
	const top = coefficients.length - 1;
	let text = "";
	coefficients.forEach((value, i) => {
		if (value === 0) return;
		const power = top - i;
		const size = Math.abs(value);
		const number = size === 1 && power > 0 ? "" : short(size);
		const letter = power === 0 ? "" : power === 1 ? variable : `${variable}^${power}`;
		const term = [number, letter].filter(Boolean).join(" ");
		text += text === "" ? `${value < 0 ? "-" : ""}${term}` : ` ${value < 0 ? "-" : "+"} ${term}`;
	});
	return text || "0";
}

/** At most six digits, no trailing zeros. */
function short(value: number): string {
	return String(Number(value.toPrecision(6)));
}
