import { loadDocument, withValue } from "../scenario/load.ts";
import { BadInput } from "./errors.ts";
import type { OpenScenario } from "./scenario-file.ts";

/** One `--with`: what is set for this flight only, and to what, as typed. */
export interface WithValue {
	readonly path: string;
	/** Empty: taken out of the file, so that its default holds. */
	readonly value: string;
}

const EXAMPLE =
	"Such as --with gainSets.A.integralOnGround=runs, --with gainSets.A.roll.kp=0.05 or --with 'craft.mass=2.1 kg'";

/** PATH=VALUE, the paths of `sweep --over`. */
export function parseWith(text: string): WithValue {
	const equals = text.indexOf("=");
	const path = text.slice(0, Math.max(0, equals)).trim();
	if (path === "") throw new BadInput(`--with '${text}': expected PATH=VALUE`, EXAMPLE);
	const section = path.split(/[.[]/)[0]!;
	if (section !== "craft" && section !== "gainSets")
		throw new BadInput(
			`--with '${text}': expected something of the craft or of a gain set`,
			section === "operatingPoints" || section === "drills"
				? `--${section === "drills" ? "drill" : "point"} names what is flown.`
				: EXAMPLE,
		);
	return { path, value: text.slice(equals + 1).trim() };
}

/** The scenario with these values in it, validated as if the file had them. */
export function openedWith(opened: OpenScenario, values: readonly WithValue[]): OpenScenario {
	let document: unknown = opened.scenario.document;
	for (const each of values)
		try {
			document = withValue(document, each.path, asInFile(each.value));
		} catch (error) {
			throw new BadInput(`${said(each)}: ${(error as Error).message}`, EXAMPLE);
		}
	const loaded = loadDocument(document);
	if (loaded.ok) return { ...opened, scenario: loaded.scenario };
	throw new BadInput(
		`${values.map(said).join(" ")}: ${loaded.errors.map((error) => error.message).join("; ")}`,
	);
}

const said = ({ path, value }: WithValue): string => `--with '${path}=${value}'`;

/** Numbers, true and false, lists and groups as JSON has them; anything else is text, as quantities with units are. */
function asInFile(value: string): unknown {
	if (value === "") return undefined;
	try {
		return JSON.parse(value);
	} catch {
		return value;
	}
}
