import type { Scenario } from "../../../scenario/model.ts";
import type { KindName } from "../../../units/kinds.ts";
import type { Choice } from "../../widgets/choice-field.tsx";

interface Common {
	/** Into the scenario document, such as 'craft.motors.lagUp'. */
	readonly path: string;
	readonly label: string;
	/** One sentence beside it. */
	readonly about?: string;
	/** Where an assumed value stands in the notes, if not at the path itself. */
	readonly assumedAt?: string;
	/** What holds while nothing is written, where it is no assumption worth a reason. */
	readonly otherwise?: string | ((scenario: Scenario) => string);
	/** The kind of its group that has it, such as 'fused' of the attitude. */
	readonly onlyFor?: string;
	/** Not shown while this stands in the document: it then says the same. */
	readonly unless?: string;
	/** Of the group it belongs to: what is wrong with that is said here too. */
	readonly groupPath?: string;
	/** Shown only with this in the document. */
	readonly onlyWith?: string;
}

export interface QuantitySpec extends Common {
	readonly as: "quantity";
	readonly kind: KindName;
	readonly word?: string;
}
interface PlainSpec extends Common {
	readonly as: "number" | "whole" | "text" | "long text";
}
interface ChoiceSpec extends Common {
	readonly as: "choice";
	readonly options: readonly (string | Choice)[];
}

/** What a group is, such as where angles come from. */
export interface KindSpec extends Common {
	readonly as: "kind";
	readonly key: string;
	readonly options: readonly {
		readonly label: string;
		readonly value: string;
		readonly keys: readonly string[];
	}[];
}

/** Several numbers side by side. */
export interface VectorSpec extends Common {
	readonly as: "vector";
	/** What each is. */
	readonly of: KindName | "number" | "whole";
	readonly parts: (scenario: Scenario) => readonly string[];
	/** Further ones that may be written, such as products of inertia. */
	readonly more?: readonly string[];
	/** What the page reckons with now, in the document's plain units: shown and filled in where nothing is written. */
	readonly now: (scenario: Scenario) => readonly number[];
}

/** A share that is a bound or a standard deviation. */
interface SpreadSpec extends Common {
	readonly as: "spread";
}
/** What is done on signal loss: one of two words, or a throttle. */
interface SignalLossSpec extends Common {
	readonly as: "signal loss";
}

export interface Column {
	/** Key of a group, or place in a list of numbers. */
	readonly key: string | number;
	readonly label: string;
	readonly of: KindName | "number" | "yes or no";
	readonly optional?: boolean;
}

/** A list of rows of the same numbers. */
export interface TableSpec extends Common {
	readonly as: "table";
	readonly columns: readonly Column[];
	readonly least: number;
	readonly most: number;
	/** What one row is, such as 'foot'. */
	readonly row: string;
	/** A row's own name; else its number. */
	readonly rowName?: (scenario: Scenario, index: number) => string;
	/** What holds while nothing is written, as rows to change. */
	readonly begin: (scenario: Scenario) => readonly unknown[];
	/** Rows must rise in the first column. */
	readonly rising?: boolean;
}

/** The same few values for each of some keys of a group. */
interface MatrixSpec extends Common {
	readonly as: "matrix";
	readonly rows: readonly string[];
	readonly columns: readonly Column[];
}

/** Lists with an editor of their own. */
interface ListSpec extends Common {
	readonly as: "parts" | "rotors" | "bench" | "limb";
}

export type CraftField =
	| QuantitySpec
	| PlainSpec
	| ChoiceSpec
	| KindSpec
	| VectorSpec
	| SpreadSpec
	| SignalLossSpec
	| TableSpec
	| MatrixSpec
	| ListSpec;

interface FieldSection {
	readonly title: string;
	readonly fields: readonly CraftField[];
}

export interface FieldGroup {
	readonly title: string;
	readonly about: string;
	readonly sections: readonly FieldSection[];
}

type Extra = Partial<Omit<Common, "path" | "label">>;

export const quantity = (
	path: string,
	kind: KindName,
	label: string,
	extra: Extra & { readonly word?: string } = {},
): QuantitySpec => ({ as: "quantity", path, kind, label, ...extra });

export const plain = (as: PlainSpec["as"], path: string, label: string, extra: Extra = {}): PlainSpec => ({
	as,
	path,
	label,
	...extra,
});

export const choice = (
	path: string,
	label: string,
	options: ChoiceSpec["options"],
	extra: Extra = {},
): ChoiceSpec => ({ as: "choice", path, label, options, ...extra });

export const yesNo = (path: string, label: string, extra: Extra = {}): ChoiceSpec =>
	choice(
		path,
		label,
		[
			{ label: "yes", value: true },
			{ label: "no", value: false },
		],
		extra,
	);

export const BODY = ["forward", "right", "down"] as const;

export const vector = (
	path: string,
	of: VectorSpec["of"],
	label: string,
	parts: readonly string[],
	now: VectorSpec["now"],
	extra: Extra & Pick<VectorSpec, "more"> = {},
): VectorSpec => ({ as: "vector", path, of, label, parts: () => parts, now, ...extra });
