import type { TuneJson } from "../report/json/tune.ts";
import { type Paint, paragraph } from "./text.ts";

const KIND = {
	swing: "limb out and home",
	takeUp: "load taken up",
	letGo: "load let go",
} as const;

/** What one set does over every pose and load; empty where that was not asked for. */
export function envelopeText(envelope: TuneJson["envelope"], paint: Paint, width: number): string {
	if (!envelope) return "";
	const { flights, worst } = envelope;
	const ended = flights.filter(({ status }) => status !== "completed");
	const most = flights.reduce((a, b) => (b.mostTiltDeg > a.mostTiltDeg ? b : a));
	const count = (kind: keyof typeof KIND): number => flights.filter((each) => each.kind === kind).length;
	const changed =
		count("takeUp") > 0
			? `, then with the load taken up at the farthest pose (${count("takeUp")}) or let go there (${count("letGo")})`
			: "";
	const worstWords = worst
		? `Worst pose ${worst.poseDeg.map((a) => a.toFixed(0)).join(", ")} deg with ${worst.loadGrams.toFixed(0)} g: ${
				worst.diskPhaseDeg === null
					? (worst.why["diskPhaseDeg"] ?? "")
					: `roll, pitch and yaw together may lose ${worst.diskPhaseDeg.toFixed(0)} deg and change by ${(worst.diskGainDb ?? 0).toFixed(1)} dB`
			}.`
		: "";
	const flightWords =
		ended.length === 0
			? `The limb swung out and home at its servos' full speed in all ${count("swing")} hover corners${changed}: none was lost, the most it leant is ${most.mostTiltDeg.toFixed(0)} deg (${KIND[most.kind]}, ${most.corner}).`
			: `${ended.length} of ${flights.length} flights of the limb out and home at full speed were lost, first with ${KIND[ended[0]!.kind]} in ${ended[0]!.corner}: ${ended[0]!.reason}.`;
	const leadWords =
		envelope.leadTiltDeg === null
			? ""
			: `With "limbLead": 1 in the gain set, what limb and load ask for fed forward, the swing that leant most leans ${envelope.leadTiltDeg.toFixed(0)} deg.`;
	return `${paint.bold("Over the whole reach")}\n${paragraph(
		`Margins of all axes together, frozen at ${envelope.poses} poses, each without and with the load: ${envelope.broken.length === 0 ? "every limit holds" : `${envelope.broken.length} limits do not hold`}. ${worstWords} ${flightWords} ${leadWords}`,
		width,
		2,
	)}`;
}
