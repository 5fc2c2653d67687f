import { useComputed } from "@preact/signals";
import { poseAt } from "../../physics/plant-at.ts";
import { limbNow } from "../../report/limb-now.ts";
import { loadWords, nearestWords, poseWords, servoWords } from "../../report/limb-words.ts";
import { formatQuantity } from "../../units/format.ts";
import { isOwnPoint } from "../commands/own-point.ts";
import { removePoint } from "../commands/remove-point.ts";
import { setLoad } from "../commands/set-load.ts";
import { poseRefusal, setPose } from "../commands/set-pose.ts";
import { chosenPoint, chosenPointNow } from "../state/chosen.ts";
import { run, scenario } from "../state/store.ts";
import { SlidField } from "../widgets/slid-field.tsx";
import "./point-controls.css";

const DEG = Math.PI / 180;

/** Limb and load at the operating point: what they are, and unfolded the means to change them. */
export function PointControls() {
	const { craft } = scenario.value;
	const point = chosenPointNow.value;
	const now = useComputed(() => limbNow(scenario.value.craft, chosenPointNow.value)).value;
	const { limb, load } = craft;
	if (!limb && load.massKg === 0) return null;
	const name = chosenPoint.value;
	const pose = poseAt(craft, point);
	return (
		<details class="point-controls">
			<summary>
				{limb ? "Limb and load" : "Load"}
				<span class="quiet">
					: {limb ? `${poseWords(craft, point)}, ` : ""}
					{loadWords(craft, point)}
				</span>
			</summary>
			<div class="point-fields">
				{limb?.links.map((link, i) => (
					<SlidField
						key={link.name}
						label={link.name}
						kind="angle"
						shown={formatQuantity("angle", pose[i]!)}
						value={pose[i]! / DEG}
						least={link.travelRad[0] / DEG}
						most={link.travelRad[1] / DEG}
						step={1}
						scale={DEG}
						about={`${formatQuantity("angle", link.travelRad[0])} to ${formatQuantity("angle", link.travelRad[1])} from folded`}
						onMove={(angle, _, joins) => {
							const wanted = pose.map((each, k) => (k === i ? angle : each));
							const refused = poseRefusal(craft, wanted);
							if (!refused) run(setPose(chosenPoint.peek(), wanted, joins));
							return refused;
						}}
					/>
				))}
				{load.massKg > 0 ? <LoadField /> : null}
			</div>
			<div class="row small">
				{limb ? (
					<button
						type="button"
						disabled={point.limbRad === undefined}
						onClick={() => run(setPose(chosenPoint.peek(), null))}
					>
						Folded
					</button>
				) : null}
				{isOwnPoint(name) ? (
					<>
						<button type="button" onClick={() => run(removePoint(name))}>
							Take out '{name}'
						</button>
						<span class="quiet">kept in the scenario as an operating point of your own</span>
					</>
				) : (
					<span class="quiet">A change makes '{name}, mine'; the point of the file stays as it is.</span>
				)}
			</div>
			{now ? (
				<p class="small">
					{nearestWords(now)} {servoWords(now)}
				</p>
			) : null}
		</details>
	);
}

function LoadField() {
	const { craft } = scenario.value;
	const most = craft.load.massKg;
	const { load } = chosenPointNow.value;
	const massKg = load === "none" ? 0 : load === "heaviest" ? most : load.massKg;
	return (
		<SlidField
			label="load"
			kind="mass"
			shown={massKg === 0 ? "0 g" : formatQuantity("mass", massKg)}
			value={1000 * massKg}
			least={0}
			most={1000 * most}
			step={roundStep(10 * most)}
			scale={1e-3}
			about={`0 to the heaviest, ${formatQuantity("mass", most)}`}
			onMove={(mass, written, joins) => {
				if (mass < 0 || mass > most * (1 + 1e-9))
					return `${written ?? formatQuantity("mass", mass)}: expected 0 to the heaviest load, ${formatQuantity("mass", most)}, a field under Craft.`;
				run(setLoad(chosenPoint.peek(), mass, { joins, ...(written ? { written } : {}) }));
				return "";
			}}
		/>
	);
}

/** 1, 2 or 5 times a power of ten, next to a size. */
function roundStep(size: number): number {
	const place = 10 ** Math.floor(Math.log10(size));
	const lead = size / place;
	return place * (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10);
}
