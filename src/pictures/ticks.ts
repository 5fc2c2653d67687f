export interface Tick {
	readonly value: number;
	/** Empty for a line without a number. */
	readonly label: string;
}

/** Ticks at 1, 2 or 5 times a power of ten (or multiples of `step`), about `count` of them. */
export function linearTicks(low: number, high: number, count: number, step: number | null = null): Tick[] {
	const raw = (high - low) / Math.max(count, 1);
	const power = 10 ** Math.floor(Math.log10(raw));
	const chosen = step ?? power * ([1, 2, 5, 10].find((m) => m * power >= raw * 0.75) ?? 10);
	const decimals = Math.max(0, -Math.floor(Math.log10(chosen) + 1e-9));
	const ticks: Tick[] = [];
	for (let k = Math.ceil(low / chosen - 1e-9); k * chosen <= high + chosen * 1e-9; k++)
		ticks.push({ value: k * chosen, label: plainNumber(k * chosen, decimals) });
	return ticks;
}

/** Every 1..9 of each decade; numbers on the decades, and on 2 and 5 where few decades are in sight. */
export function logTicks(low: number, high: number): Tick[] {
	const named = Math.log10(high / low) < 2.6 ? [1, 2, 5] : [1];
	const ticks: Tick[] = [];
	for (let e = Math.floor(Math.log10(low)); e <= Math.ceil(Math.log10(high)); e++)
		for (let m = 1; m <= 9; m++) {
			const value = m * 10 ** e;
			if (value < low * (1 - 1e-9) || value > high * (1 + 1e-9)) continue;
			ticks.push({ value, label: named.includes(m) ? plainNumber(value, Math.max(0, -e)) : "" });
		}
	return ticks;
}

/** With a true minus sign; powers of ten where the plain number would be long. */
export function plainNumber(value: number, decimals: number): string {
	if (value === 0) return "0";
	const size = Math.abs(value);
	const text =
		size >= 1e6 || size < 1e-5
			? size.toExponential(1).replace("e+", "e")
			: size.toFixed(Math.min(decimals, 12));
	return Number(text) === 0 ? "0" : (value < 0 ? "\u2212" : "") + text;
}
