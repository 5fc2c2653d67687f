/** Powers of kg, m, s, A, K, rad. */
export type Dimensions = readonly [number, number, number, number, number, number];

/** A unit as a factor to SI with its dimensions; temperatures also have an offset: SI = (number + offset) factor. */
export interface Unit {
	readonly factor: number;
	readonly dimensions: Dimensions;
	readonly offset: number;
}

const unit = (factor: number, dimensions: readonly number[], offset = 0): Unit => ({
	factor,
	dimensions: Array.from({ length: 6 }, (_, i) => dimensions[i] ?? 0) as unknown as Dimensions,
	offset,
});

const POUND = 0.45359237;
const GRAVITY = 9.80665;

/** Units that take a metric prefix. Dimensions: kg, m, s, A, K, rad. */
const METRIC: ReadonlyMap<string, Unit> = new Map([
	["g", unit(1e-3, [1])],
	["m", unit(1, [0, 1])],
	["s", unit(1, [0, 0, 1])],
	["A", unit(1, [0, 0, 0, 1])],
	["Ah", unit(3600, [0, 0, 1, 1])],
	["V", unit(1, [1, 2, -3, -1])],
	["W", unit(1, [1, 2, -3])],
	["Wh", unit(3600, [1, 2, -2])],
	["J", unit(1, [1, 2, -2])],
	["N", unit(1, [1, 1, -2])],
	["Pa", unit(1, [1, -1, -2])],
	["Hz", unit(1, [0, 0, -1])],
	["ohm", unit(1, [1, 2, -3, -2])],
	["rad", unit(1, [0, 0, 0, 0, 0, 1])],
	["gf", unit(1e-3 * GRAVITY, [1, 1, -2])],
]);

/** Units that take none (factors: NIST Special Publication 811, 2008, appendix B.8). */
const PLAIN: ReadonlyMap<string, Unit> = new Map([
	["K", unit(1, [0, 0, 0, 0, 1])],
	["degC", unit(1, [0, 0, 0, 0, 1], 273.15)],
	["degF", unit(5 / 9, [0, 0, 0, 0, 1], 459.67)],
	["deg", unit(Math.PI / 180, [0, 0, 0, 0, 0, 1])],
	["rev", unit(2 * Math.PI, [0, 0, 0, 0, 0, 1])],
	["rpm", unit(Math.PI / 30, [0, 0, -1, 0, 0, 1])],
	["in", unit(0.0254, [0, 1])],
	["inch", unit(0.0254, [0, 1])],
	["ft", unit(0.3048, [0, 1])],
	["lb", unit(POUND, [1])],
	["lbs", unit(POUND, [1])],
	["oz", unit(POUND / 16, [1])],
	["lbf", unit(POUND * GRAVITY, [1, 1, -2])],
	["ozf", unit((POUND / 16) * GRAVITY, [1, 1, -2])],
	["min", unit(60, [0, 0, 1])],
	["h", unit(3600, [0, 0, 1])],
	["mph", unit(0.44704, [0, 1, -1])],
	["kph", unit(1 / 3.6, [0, 1, -1])],
]);

const PREFIXES: ReadonlyMap<string, number> = new Map([
	["n", 1e-9],
	["u", 1e-6],
	["m", 1e-3],
	["c", 1e-2],
	["k", 1e3],
	["M", 1e6],
]);

function named(name: string): Unit | null {
	const exact = PLAIN.get(name) ?? METRIC.get(name);
	if (exact !== undefined) return exact;
	const prefix = PREFIXES.get(name[0] ?? "");
	const base = METRIC.get(name.slice(1));
	return prefix === undefined || base === undefined ? null : { ...base, factor: prefix * base.factor };
}

const TOKEN = /\s*(?:([A-Za-z]+)|(\^)\s*([+-]?\d+(?:\.\d+)?)|([/()*])|(1)(?=\s*\/))/y;

/**
 * Reads products, quotients, powers and brackets of units: 'kg m^2', 'N/(rad/s)^2', 'deg/s/Hz^0.5'. A slash divides by
 * the next factor only, a blank or * multiplies. Null where it cannot be read.
 */
export function readUnit(text: string): Unit | null {
	const tokens = tokenise(text);
	if (tokens === null || tokens.length === 0) return null;
	let at = 0;
	const product = (): Unit | null => {
		let result: Unit | null = null;
		let divide = false;
		for (;;) {
			const token = tokens[at];
			if (token === undefined || token === ")") return divide ? null : result;
			if (token === "/" || token === "*") {
				if (result === null || divide) return null;
				divide = token === "/";
				at++;
				continue;
			}
			const next = power();
			if (next === null) return null;
			result = result === null ? next : multiply(result, next, divide ? -1 : 1);
			divide = false;
		}
	};
	const factor = (): Unit | null => {
		const token = tokens[at++]!;
		if (token === "1") return unit(1, []);
		if (token !== "(") return /^[A-Za-z]/.test(token) ? named(token) : null;
		const inside = product();
		return tokens[at++] === ")" ? inside : null;
	};
	const power = (): Unit | null => {
		const base = factor();
		const exponent = tokens[at];
		if (base === null || exponent === undefined || !exponent.startsWith("^")) return base;
		at++;
		return multiply(unit(1, []), base, Number(exponent.slice(1)));
	};
	const result = product();
	return at === tokens.length ? result : null;
}

function tokenise(text: string): string[] | null {
	const tokens: string[] = [];
	TOKEN.lastIndex = 0;
	const end = text.trimEnd().length;
	while (TOKEN.lastIndex < end) {
		const match = TOKEN.exec(text);
		if (match === null) return null;
		tokens.push(match[1] ?? match[4] ?? match[5] ?? `^${match[3]}`);
	}
	return tokens;
}

function multiply(a: Unit, b: Unit, power: number): Unit {
	return unit(
		a.factor * b.factor ** power,
		a.dimensions.map((d, i) => d + power * b.dimensions[i]!),
	);
}
