import { useComputed } from "@preact/signals";
import * as vec3 from "../../../math/vec3.ts";
import { limbNow } from "../../../report/limb-now.ts";
import { nearestWords, servoWords } from "../../../report/limb-words.ts";
import { chosenPoint, chosenPointNow } from "../../state/chosen.ts";
import { scenario } from "../../state/store.ts";
import { DataTable } from "../../widgets/data-table.tsx";

const DEG = 180 / Math.PI;
const whole = (value: number): string => value.toFixed(0).replace("-", "\u2212");
const NAMED = [
	["roll", [1, 0, 0]],
	["pitch", [0, 1, 0]],
	["yaw", [0, 0, 1]],
] as const;

/** Links as numbers, with what each servo holds at the operating point. */
export function LinksTable() {
	const { limb } = scenario.value.craft;
	const now = useComputed(() => limbNow(scenario.value.craft, chosenPointNow.value)).value;
	if (!limb || !now) return null;
	return (
		<>
			<DataTable
				caption={`Links from the airframe outwards; angle and torque at operating point ${chosenPoint.value}, in hover`}
				columns={[
					{ title: "link" },
					{ title: "turns about" },
					{ title: "length", unit: "mm", number: true },
					{ title: "mass", unit: "g", number: true },
					{ title: "travel", unit: "deg", number: true },
					{ title: "now", unit: "deg", number: true },
					{ title: "servo holds", unit: "N m", number: true },
					{ title: "most it gives", unit: "N m", number: true },
					{ title: "current", unit: "A", number: true },
				]}
				rows={limb.links.map((link, i) => {
					const { angleRad, torqueNm, limitNm, currentA } = now.links[i]!;
					const axis = NAMED.find(([, v]) => vec3.dot(v, link.axis) > 1 - 1e-9);
					const torque = torqueNm === null ? "-" : Math.abs(torqueNm).toFixed(3);
					return [
						link.name,
						axis ? axis[0] : link.axis.map((each) => each.toFixed(2)).join(", "),
						whole(1000 * vec3.length(vec3.subtract(link.tipM, link.hingeM))),
						whole(1000 * link.mass.massKg),
						link.travelRad.map((each) => whole(DEG * each)).join(" to "),
						whole(DEG * angleRad),
						Math.abs(torqueNm ?? 0) > limitNm ? { text: torque, mark: "fails" as const } : torque,
						limitNm.toFixed(2),
						currentA === null ? "-" : currentA.toFixed(2),
					];
				})}
			/>
			<p class="small">
				{nearestWords(now)} {servoWords(now)}
			</p>
		</>
	);
}
