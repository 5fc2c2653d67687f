/**
 * JSON text of a result. Every number in it is finite and every property has a value: anything else is a fault of this
 * program and is refused rather than written as null.
 */
export function toJson(value: unknown): string {
	checkValue(value, "");
	return `${JSON.stringify(value, null, 2)}\n`;
}

function checkValue(value: unknown, path: string): void {
	if (typeof value === "number" && !Number.isFinite(value))
		throw new RangeError(`JSON output: ${path || "value"} is ${value}, expected a finite number or null`);
	if (value === undefined) throw new RangeError(`JSON output: ${path} is undefined`);
	if (typeof value !== "object" || value === null) return;
	if (ArrayBuffer.isView(value)) throw new RangeError(`JSON output: ${path} is a typed array`);
	for (const [key, each] of Object.entries(value)) checkValue(each, path ? `${path}.${key}` : key);
}
