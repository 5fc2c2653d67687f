import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { setValue } from "../../../commands/set-value.ts";
import { run, state } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { TypedField } from "../../../widgets/typed-field.tsx";
import { readerOf } from "./reader-of.ts";

const FORMS = [
	{ label: "a bound: never more", value: "plusMinus" },
	{ label: "one standard deviation", value: "standardDeviation" },
];

/** How well a number is known: a bound, or a standard deviation, of which the worst case takes two. */
export function SpreadField({ path, label }: { readonly path: string; readonly label: string }) {
	const given = valueAt(state.value.document, parsePath(path)) as
		| string
		| number
		| { readonly plusMinus?: unknown; readonly standardDeviation?: unknown }
		| undefined;
	const isGroup = typeof given === "object" && given !== null;
	const form = isGroup && "standardDeviation" in given ? "standardDeviation" : "plusMinus";
	const share = isGroup ? (given.standardDeviation ?? given.plusMinus) : given;
	return (
		<div class="spread">
			<TypedField
				path={isGroup ? `${path}.${form}` : path}
				assumedAt={path}
				label={label}
				reader={readerOf("fraction")}
			/>
			{given === undefined ? null : (
				<ChoiceField
					path={path}
					label={`${label}: that is`}
					options={FORMS}
					otherwise=""
					chosen={form}
					about={form === "standardDeviation" ? "A worst case stands at two of them." : ""}
					write={(to) => run(setValue(path, { [String(to)]: share }, label))}
				/>
			)}
		</div>
	);
}
