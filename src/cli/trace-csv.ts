import { TRACE_COLUMNS, type Trace } from "../flight/result.ts";
import { csv } from "./csv.ts";

const DEG = 180 / Math.PI;

/** Units as people read them; rotor speeds stay in rad/s. */
const SHOWN: { readonly [unit: string]: { readonly unit: string; readonly factor: number } } = {
	rad: { unit: "deg", factor: DEG },
	"rad/s": { unit: "deg/s", factor: DEG },
};

/** A flight's trace, one row per record; a column's unit stands behind its name in square brackets. */
export function traceCsv(trace: Trace): string {
	const columns = Object.entries(trace.columns).map(([name, values]) => {
		const known = TRACE_COLUMNS.find(
			(each) => (each.perRotor || each.limb ? name.replace(/\d+$/, "") : name) === each.name,
		);
		const unit = known?.unit ?? "";
		const shown = (known?.perRotor ? undefined : SHOWN[unit]) ?? { unit, factor: 1 };
		return { title: shown.unit ? `${name} [${shown.unit}]` : name, values, factor: shown.factor };
	});
	const rows = function* () {
		for (let i = 0; i < trace.length; i++)
			yield columns.map((c) => Number((c.values[i]! * c.factor).toPrecision(9)));
	};
	return csv(
		columns.map((c) => c.title),
		rows(),
	);
}
