import { useId } from "preact/hooks";
import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { formatQuantity } from "../../../../units/format.ts";
import { setComponent } from "../../../commands/set-component.ts";
import { setValue } from "../../../commands/set-value.ts";
import { unitOf } from "../../../entry/typed.ts";
import { fieldNotes } from "../../../state/field-notes.ts";
import { run, state } from "../../../state/store.ts";
import { FieldNote } from "../../../widgets/field-note.tsx";
import { useTyped } from "../../../widgets/use-typed.ts";
import { type ReaderName, readerOf } from "./reader-of.ts";

interface VectorFieldProps {
	readonly path: string;
	readonly label: string;
	readonly of: ReaderName;
	/** What each number is. */
	readonly parts: readonly string[];
	/** Further ones that may be written. */
	readonly more?: readonly string[];
	/** What holds while nothing is written, in plain units; null: nothing does, it must be written. */
	readonly now: readonly number[] | null;
	readonly about?: string;
	/** What holds is the plain thing that needs no remark, such as no turn. */
	readonly plain?: boolean;
}

/** Several numbers side by side, each typed with its unit. What is not written stands there as the page reckons with it. */
export function VectorField({
	path,
	label,
	of,
	parts,
	more = [],
	now,
	about = "",
	plain = false,
}: VectorFieldProps) {
	const id = useId();
	const value = valueAt(state.value.document, parsePath(path));
	const given = Array.isArray(value) ? (value as readonly unknown[]) : null;
	const notes = fieldNotes(path);
	const reader = readerOf(of);
	const count = given && given.length > parts.length ? parts.length + more.length : parts.length;
	const names = [...parts, ...more].slice(0, count);
	const whole = names.map((_, i) => asWritten(of, now?.[i]));
	const texts = (given ?? whole).map((each) => reader.show(each));
	const like = texts.find((text, i) => unitOf(text) !== "" && (given ?? whole)[i] !== 0) ?? USUAL[of] ?? "";
	const messages = [
		notes.error?.message ?? "",
		...names.map((name, i) => {
			const { error } = fieldNotes(`${path}[${i}]`);
			if (!error) return "";
			return given?.[i] === null
				? `${path}[${i}], ${name}: nothing yet, expected ${error.expected}`
				: error.message;
		}),
	].filter(Boolean);
	const held = given === null && now !== null;
	return (
		<fieldset class={`field vector${held && !plain ? " assumed" : ""}${messages.length > 0 ? " wrong" : ""}`}>
			<legend>{label}</legend>
			<div class="numbers-row" style={of === "inertia" ? { "--least": "8.5rem" } : {}}>
				{names.map((name, i) => (
					<VectorPart
						key={name}
						path={`${path}[${i}]`}
						label={name}
						name={`${label}, ${name}`}
						of={of}
						shown={reader.show((given ?? whole)[i], like)}
						like={like}
						noteId={`${id}note`}
						write={(to, joins) => run(setComponent(path, i, to, whole, label, joins))}
					/>
				))}
			</div>
			<FieldNote
				id={`${id}note`}
				message={messages.join(" ")}
				remark={held && !plain && !notes.assumed ? "Not written down: this holds." : ""}
				odd={notes.odd}
				assumed={held ? notes.assumed : null}
				about={about}
			/>
			{given && !plain ? (
				<div class="row small">
					{now ? (
						<button
							type="button"
							class="plain"
							aria-label={`Take out ${label}`}
							onClick={() => run(setValue(path, undefined, label))}
						>
							Take out
						</button>
					) : null}
					{more.length > 0 ? (
						<button
							type="button"
							class="plain"
							onClick={() =>
								run(
									setValue(
										path,
										count > parts.length ? given.slice(0, parts.length) : [...given, ...more.map(() => 0)],
										label,
									),
								)
							}
						>
							{count > parts.length ? `Without ${more.join(", ")}` : `With ${more.join(", ")}`}
						</button>
					) : null}
				</div>
			) : null}
		</fieldset>
	);
}

/** Where nothing beside it has a unit yet. */
const USUAL: Readonly<Partial<Record<ReaderName, string>>> = {
	length: "0 mm",
	angle: "0 deg",
	area: "0 cm^2",
};

function asWritten(of: ReaderName, value: number | undefined): unknown {
	if (value === undefined) return null;
	if (of === "number" || of === "whole" || of === "text" || value === 0) return value;
	return formatQuantity(of, value, 5);
}

interface PartProps {
	readonly path: string;
	readonly label: string;
	readonly name: string;
	readonly of: ReaderName;
	readonly shown: string;
	readonly like: string;
	readonly noteId: string;
	readonly write: (value: unknown, joins?: string) => void;
}

function VectorPart({ path, label, name, of, shown, like, noteId, write }: PartProps) {
	const id = useId();
	const { refused, remark, input, handle } = useTyped({
		key: path,
		reader: readerOf(of),
		shown,
		like,
		write,
	});
	const wrong = refused !== "" || fieldNotes(path).error !== null;
	return (
		<div class="number">
			<label for={id} {...handle}>
				{label}
			</label>
			<input
				id={id}
				{...input}
				aria-label={name}
				aria-invalid={wrong}
				aria-describedby={`${id}own ${noteId}`}
			/>
			<p id={`${id}own`} class={refused ? "stop note" : "quiet note"}>
				{refused || remark}
			</p>
		</div>
	);
}
