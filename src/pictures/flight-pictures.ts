import type { AxisName } from "../control/spec.ts";
import type { Craft } from "../craft/model.ts";
import { type FlightResult, STATUS_WORDS } from "../flight/result.ts";
import { anglesOf, attitudeStrip, type StripFlight } from "./attitude-strip.ts";
import { type NamedSet, type PictureHead, signed } from "./looks.ts";
import type { Look, Picture, SilhouetteView } from "./picture.ts";
import { stepOverlay } from "./step-overlay.ts";
import { type TraceLine, type TracePanel, timeTraces } from "./time-traces.ts";
import { fixed, type ValueAt, valueAt } from "./values-at.ts";

const DEG = 180 / Math.PI;

export interface DrawnFlight extends NamedSet {
	readonly flight: FlightResult;
	/** In place of the set's own, where two flights are of one set. */
	readonly look?: Look;
}

const degrees = (values: Float64Array): Float64Array => values.map((v) => v * DEG);

/** What is asked of an axis and what it does: angle for roll and pitch, turn rate for yaw. */
const SIGNALS: {
	readonly [A in AxisName]: {
		readonly value: string;
		readonly asked: string;
		readonly label: string;
		readonly unit: string;
	};
} = {
	roll: { value: "roll", asked: "rollSetPoint", label: "roll angle", unit: "deg" },
	pitch: { value: "pitch", asked: "pitchSetPoint", label: "pitch angle", unit: "deg" },
	yaw: { value: "yawRate", asked: "yawRateSetPoint", label: "turn rate", unit: "deg/s" },
};

/** All that the step picture reads of a trace, any axis. */
export const STEP_COLUMNS: readonly string[] = [
	"time",
	...Object.values(SIGNALS).flatMap(({ value, asked }) => [value, asked]),
];

/** Several sets on one drill, one axis over time. */
export function stepPicture(head: PictureHead, axis: AxisName, flights: readonly DrawnFlight[]): Picture {
	const { value, asked, label, unit } = SIGNALS[axis];
	const longest = flights.reduce((a, b) => (b.flight.trace.length > a.flight.trace.length ? b : a));
	const { columns } = longest.flight.trace;
	return stepOverlay({
		...head,
		label,
		unit,
		curves: flights.map(({ letter, name, flight }) => ({
			letter,
			name,
			timeSec: flight.trace.columns["time"]!,
			values: degrees(flight.trace.columns[value]!),
		})),
		setPoint: { timeSec: columns["time"]!, values: degrees(columns[asked]!) },
	});
}

/** Where flights ended before their time. */
const endings = (flights: readonly DrawnFlight[]) =>
	flights
		.filter(({ flight }) => flight.status !== "completed")
		.map(({ flight, name }) => ({
			timeSec: flight.timeSec,
			text: `${name}: ${STATUS_WORDS[flight.status]}`,
		}));

/** What the limits of a limb's panels come from. */
type LimbOf = Pick<Craft, "limb" | "supply" | "battery">;

/** Everything worth seeing of flights over one time axis; where the limb of a craft given here moves, what its hinges and servos do against their limits. */
export function tracesPicture(head: PictureHead, flights: readonly DrawnFlight[], craft?: LimbOf): Picture {
	const panel = (label: string, unit: string, asked: string | null, value: string): TracePanel => {
		const lines: TraceLine[] = flights.map(({ letter, name, flight, look }) => ({
			letter,
			name,
			...(look && { look }),
			timeSec: flight.trace.columns["time"]!,
			values: unit.startsWith("deg") ? degrees(flight.trace.columns[value]!) : flight.trace.columns[value]!,
		}));
		const { columns } = flights[0]!.flight.trace;
		if (asked)
			lines.unshift({
				letter: "",
				name: "asked for",
				timeSec: columns["time"]!,
				values: degrees(columns[asked]!),
			});
		return { label, unit, lines };
	};
	const rotors = Object.keys(flights[0]!.flight.trace.columns).filter((name) => /^command\d+$/.test(name));
	const motors = (pick: (...values: number[]) => number): TraceLine[] =>
		flights.map(({ letter, name, flight, look }) => ({
			letter,
			name,
			...(look && { look }),
			timeSec: flight.trace.columns["time"]!,
			values: flight.trace.columns["time"]!.map(
				(_, i) => 100 * pick(...rotors.map((r) => flight.trace.columns[r]![i]!)),
			),
		}));
	return timeTraces({
		...head,
		panels: [
			panel("roll", "deg", "rollSetPoint", "roll"),
			panel("pitch", "deg", "pitchSetPoint", "pitch"),
			panel("turn rate", "deg/s", "yawRateSetPoint", "yawRate"),
			{ label: "busiest motor", unit: "%", lines: motors(Math.max) },
			{ label: "idlest motor", unit: "%", lines: motors(Math.min) },
			...limbPanels(flights, craft),
		],
		events: endings(flights),
	});
}

/** Angle and torque of every link with the ends of travel and torque, the current of their servos together, and how far what hangs swings; those that a trace has. */
function limbPanels(flights: readonly DrawnFlight[], craft: LimbOf | undefined): TracePanel[] {
	const panel = (
		label: string,
		unit: string,
		columns: readonly string[],
		limits: TracePanel["limits"],
	): TracePanel[] => {
		const lines = flights.flatMap(({ letter, name, flight, look }): TraceLine[] => {
			const found = columns.flatMap((column) => flight.trace.columns[column] ?? []);
			if (found.length === 0) return [];
			const values = found[0]!.map((_, i) => found.reduce((sum, each) => sum + each[i]!, 0));
			return [
				{
					letter,
					name,
					...(look && { look }),
					timeSec: flight.trace.columns["time"]!,
					values: unit === "deg" ? degrees(values) : values,
				},
			];
		});
		return lines.length > 0 ? [{ label, unit, lines, ...(limits && { limits }) }] : [];
	};
	const links = craft?.limb?.links ?? [];
	const hinges = links.flatMap(({ name, travelRad, servo }, i) => [
		...panel(
			`${name} from folded`,
			"deg",
			[`limbAngle${i}`],
			[...travelRad.map((end) => ({ value: end * DEG, text: `travel ends at ${signed(end * DEG, 0)}°` }))],
		),
		...panel(
			`servo of ${name}`,
			"N m",
			[`limbTorque${i}`],
			[
				{ value: servo.torqueLimitNm, text: `at most ${servo.torqueLimitNm.toFixed(2)} N m` },
				{ value: -servo.torqueLimitNm, text: "" },
			],
		),
	]);
	const currents = craft
		? panel(
				"servos together",
				"A",
				links.map((_, i) => `limbCurrent${i}`),
				supplyLimits(craft),
			)
		: [];
	return [...hinges, ...currents, ...panel("swing of the load", "deg", ["swing"], undefined)];
}

/** What the electronics leave of what the supply gives. */
function supplyLimits({ supply, battery }: LimbOf): TracePanel["limits"] {
	const left = supply.limitA - battery.avionicsPowerW / supply.outputV;
	return [{ value: left, text: `the electronics leave ${left.toFixed(1)} A` }];
}

/** Silhouettes along time: roll and pitch, and heading where it turned by 15 degrees or more. */
export function stripPicture(
	head: PictureHead,
	flights: readonly DrawnFlight[],
	room: { readonly count: number; readonly brief: boolean } = { count: 14, brief: false },
): Picture {
	return attitudeStrip({
		...head,
		flights: flights.map(stripFlight),
		views: viewsOf(flights),
		timeRange: null,
		events: endings(flights),
		...room,
	});
}

function stripFlight({ letter, name, flight }: DrawnFlight): StripFlight {
	const { columns } = flight.trace;
	const time = columns["time"]!;
	const motors = Object.keys(columns).filter((column) => /^command\d+$/.test(column));
	return {
		letter,
		name,
		timeSec: time,
		rollRad: columns["roll"]!,
		pitchRad: columns["pitch"]!,
		yawRad: columns["yaw"]!,
		rollAskedRad: columns["rollSetPoint"]!,
		pitchAskedRad: columns["pitchSetPoint"]!,
		heightM: columns["down"]!.map((down) => -down),
		busiestCommand: time.map((_, i) => Math.max(...motors.map((motor) => columns[motor]![i]!))),
	};
}

function viewsOf(flights: readonly DrawnFlight[]): readonly SilhouetteView[] {
	const turned = flights.some(({ flight }) =>
		flight.trace.columns["yaw"]!.some((yaw) => Math.abs(yaw) * DEG > 15),
	);
	return turned ? ["behind", "right", "above"] : ["behind", "right"];
}

/** What the rows of `stripPicture` stand at, at any instant of the flights, row by row. */
export function stripValues(
	flights: readonly DrawnFlight[],
	brief = false,
): (timeSec: number) => readonly ValueAt[][] {
	const views = viewsOf(flights);
	const rows = flights.flatMap((drawn) => {
		const flight = stripFlight(drawn);
		return views.map((view) => ({ flight, ...anglesOf(flight, view) }));
	});
	return (timeSec) =>
		rows.map(({ flight, angle, asked }) => {
			const at = (values: ArrayLike<number>, factor: number, decimals: number): string => {
				const value = valueAt(flight.timeSec, values, timeSec);
				return value === null ? "-" : fixed(factor * value, decimals);
			};
			return [
				{ of: flight.letter, text: `${at(angle, DEG, 1)}\u00b0` },
				...(asked ? [{ of: "asked for", text: `${at(asked, DEG, 1)}\u00b0` }] : []),
				{ of: brief ? "" : "height", text: `${at(flight.heightM, 1, 2)} m` },
			];
		});
}
