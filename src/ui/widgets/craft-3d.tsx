import { useComputed } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Vec3 } from "../../math/types.ts";
import { loadsAt, plantAt, poseAt } from "../../physics/plant-at.ts";
import { chosenPoint } from "../state/chosen.ts";
import { scenario } from "../state/store.ts";
import { theme } from "../state/theme.ts";
import type { CraftScene } from "../three/craft-scene.ts";
import { fixedParts, limbPlaces, loadPlace } from "../three/limb-places.ts";
import { CraftPlan } from "./craft-plan.tsx";
import { DataTable } from "./data-table.tsx";
import "./picture-numbers.css";
import { SceneFrame } from "./scene-frame.tsx";

const millimetres = (metres: number): string => (1000 * metres).toFixed(0).replace("-", "\u2212");

/** What was built, as its numbers say, at the operating point. */
export function Craft3d() {
	const [scene, setScene] = useState<CraftScene | null>(null);
	const shown = useComputed(() => {
		const { craft, parts, operatingPoints, document } = scenario.value;
		const point = operatingPoints.find((each) => each.name === chosenPoint.value)!.point;
		const { centreOfMassM } = plantAt(craft, point);
		return {
			craft,
			parts: fixedParts(parts, document),
			poseRad: poseAt(craft, point),
			loads: loadsAt(craft, point),
			centreOfMassM,
		};
	}).value;
	const colours = theme.value;
	useEffect(() => scene?.show(shown), [scene, shown, colours]);
	const { craft, loads, poseRad, centreOfMassM } = shown;
	const { parts } = scenario.value;
	const row = (name: string, place: Vec3, spin = "", motor = ""): string[] => [
		name,
		motor,
		spin,
		...place.map(millimetres),
	];
	return (
		<section class="sheet" aria-labelledby="craft-3d-title">
			<header>
				<h2 id="craft-3d-title">What was built</h2>
			</header>
			<SceneFrame<CraftScene>
				label={`The craft in 3D: ${craft.rotors.length} rotors with their spin, centre of mass, forward and right. The table below says the same.`}
				invented={craft.invented}
				details="craft-3d-numbers"
				make={(scenes, host) => new scenes.CraftScene(host)}
				onScene={setScene}
				instead={<CraftPlan {...shown} />}
			/>
			<p class="quiet small">
				{parts.length > 0
					? `${parts.length} lines of the parts list, to scale.`
					: `No parts list: a plain body and rods stand for the frame; the ${craft.rotors.length} rotors stand where your numbers put them.`}
			</p>
			<details id="craft-3d-numbers" class="numbers">
				<summary>Numbers: places, spin and motor numbers</summary>
				<DataTable
					caption={`Places from the airframe's reference point, operating point ${chosenPoint.value}`}
					columns={[
						{ title: "what" },
						{ title: "motor", number: true },
						{ title: "spins, seen from above" },
						{ title: "forward", unit: "mm", number: true },
						{ title: "right", unit: "mm", number: true },
						{ title: "down", unit: "mm", number: true },
					]}
					rows={[
						...craft.rotors.map((rotor) =>
							row(
								`rotor ${rotor.place}`,
								rotor.positionM,
								rotor.spin === 1 ? "clockwise" : "counter-clockwise",
								String(rotor.motorNumber),
							),
						),
						row("centre of mass", centreOfMassM),
						...(craft.limb
							? [
									...limbPlaces(craft, poseRad).tubes.map(({ toM }, i) =>
										row(`tip of ${craft.limb!.links[i]!.name}`, toM),
									),
									row("grip", limbPlaces(craft, poseRad).gripM),
								]
							: []),
						...loads.map((load) =>
							row(
								`load, ${Math.round(1000 * load.massKg)} g`,
								loadPlace(craft, load, poseRad, [0, 0, 1]).middleM,
							),
						),
					]}
				/>
			</details>
		</section>
	);
}
