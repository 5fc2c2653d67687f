import { parsePath, valueAt } from "../../../../scenario/path.ts";
import { setValue } from "../../../commands/set-value.ts";
import { run, state } from "../../../state/store.ts";
import { ChoiceField } from "../../../widgets/choice-field.tsx";
import { TypedField } from "../../../widgets/typed-field.tsx";
import { readerOf } from "./reader-of.ts";

const OPTIONS = [
	{ label: "flies on with the last sticks", value: "keep" },
	{ label: "makes the motors safe", value: "makeSafe" },
	{ label: "holds level at a throttle", value: "throttle" },
];

/** What the firmware does without signal: one of two words, or level at a throttle. */
export function SignalLossField({ path, label }: { readonly path: string; readonly label: string }) {
	const given = valueAt(state.value.document, parsePath(path));
	const atThrottle = typeof given === "object" && given !== null;
	return (
		<>
			<ChoiceField
				path={path}
				label={label}
				options={OPTIONS}
				chosen={atThrottle ? "throttle" : typeof given === "string" ? given : undefined}
				write={(to) => run(setValue(path, to === "throttle" ? { throttle: null } : to, label))}
			/>
			{atThrottle ? (
				<TypedField path={`${path}.throttle`} label="At a throttle of" reader={readerOf("fraction")} />
			) : null}
		</>
	);
}
