import { useComputed } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { FlightResult } from "../../flight/result.ts";
import { toEuler } from "../../math/quaternion.ts";
import { loadsAt, plantAt } from "../../physics/plant-at.ts";
import type { NamedSet } from "../../pictures/looks.ts";
import { listed } from "../../pictures/looks.ts";
import { chosenDrill, chosenPoint } from "../state/chosen.ts";
import { cursorSec } from "../state/cursor.ts";
import { scenario } from "../state/store.ts";
import { theme } from "../state/theme.ts";
import { poseAt } from "../three/motion.ts";
import type { ReplayScene } from "../three/replay-scene.ts";
import { CraftPlan } from "./craft-plan.tsx";
import { SceneFrame } from "./scene-frame.tsx";

const SPEEDS = [
	{ words: "as fast as flown", factor: 1 },
	{ words: "1/2", factor: 1 / 2 },
	{ words: "1/5", factor: 1 / 5 },
	{ words: "1/10", factor: 1 / 10 },
];
const STEP_SEC = 0.02;
const DEG = 180 / Math.PI;
const degrees = (radians: number): string => (DEG * radians).toFixed(0).replace("-", "\u2212");

/** One or two flights of the drill in 3D, at the instant that is pointed at. Plays only when asked to. */
export function Replay({
	flights,
}: {
	readonly flights: readonly (NamedSet & { readonly flight: FlightResult })[];
}) {
	const [scene, setScene] = useState<ReplayScene | null>(null);
	const [playing, setPlaying] = useState(false);
	const [factor, setFactor] = useState(1);
	const about = useComputed(() => {
		const { craft, parts, operatingPoints, drills } = scenario.value;
		const point = operatingPoints.find((each) => each.name === chosenPoint.value)!.point;
		return {
			craft,
			parts,
			loads: loadsAt(craft, point),
			centreOfMassM: plantAt(craft, point).centreOfMassM,
			drill: drills.find((each) => each.name === chosenDrill.value),
			pointWindMPerSec: point.windMPerSec,
		};
	}).value;
	const pair = flights.slice(0, 2);
	const endSec = Math.max(0, ...pair.map(({ flight }) => flight.trace.columns["time"]!.at(-1) ?? 0));
	const nowSec = Math.min(cursorSec.value ?? 0, endSec);
	const colours = theme.value;
	const [first, second] = pair;
	useEffect(() => {
		if (!scene || !about.drill) return;
		scene.show({
			...about,
			drill: about.drill,
			flights: pair.map(({ letter, flight }) => ({ letter, trace: flight.trace })),
		});
		scene.at(Math.min(cursorSec.peek() ?? 0, endSec));
	}, [scene, about, first?.flight, second?.flight, first?.letter, second?.letter, colours]);
	useEffect(() => scene?.at(nowSec), [scene, nowSec]);
	useEffect(() => {
		if (!playing) return undefined;
		let last = performance.now();
		let frame = requestAnimationFrame(function next(now: number): void {
			const then = (cursorSec.peek() ?? 0) + (factor * (now - last)) / 1000;
			last = now;
			cursorSec.value = Math.min(then, endSec);
			if (then >= endSec) setPlaying(false);
			else frame = requestAnimationFrame(next);
		});
		return () => cancelAnimationFrame(frame);
	}, [playing, factor, endSec]);
	if (pair.length === 0) return null;
	const play = (): void => {
		if (!playing && nowSec >= endSec) cursorSec.value = 0;
		setPlaying(!playing);
	};
	return (
		<section class="sheet" aria-labelledby="replay-title">
			<header>
				<h2 id="replay-title">Replay</h2>
			</header>
			<SceneFrame<ReplayScene>
				label={`The flight in 3D: set ${listed(pair.map((each) => each.letter))}. The lines below say where it is.`}
				invented={about.craft.invented}
				make={(scenes, host) => new scenes.ReplayScene(host)}
				onScene={setScene}
				instead={<CraftPlan craft={about.craft} centreOfMassM={about.centreOfMassM} />}
			/>
			<div class="row replay-bar">
				<button type="button" onClick={play}>
					{playing ? "Pause" : "Play"}
				</button>
				<label>
					<span class="visually-hidden">Speed of the replay</span>
					<select value={String(factor)} onChange={(event) => setFactor(Number(event.currentTarget.value))}>
						{SPEEDS.map((each) => (
							<option key={each.words} value={String(each.factor)}>
								{each.words}
							</option>
						))}
					</select>
				</label>
				<input
					type="range"
					aria-label="Time in the flight"
					aria-valuetext={`${nowSec.toFixed(2)} seconds`}
					min="0"
					max={endSec}
					step={STEP_SEC}
					value={nowSec}
					onInput={(event) => {
						setPlaying(false);
						cursorSec.value = Number(event.currentTarget.value);
					}}
				/>
				<span>{nowSec.toFixed(2)} s</span>
			</div>
			{pair.map(({ letter, flight }, i) => (
				<p class="small" key={letter}>
					{pose(letter, flight, nowSec, about.craft.rotors.length)}
					{pair.length > 1 ? (i === 0 ? " Drawn solid." : " Drawn as a dashed outline.") : ""}
				</p>
			))}
			<p class="quiet small">
				Each disc of {first?.letter} is darker the more its motor is asked for, in percent of full. The wind
				arrow is mean wind and gusts, without turbulence.
			</p>
		</section>
	);
}

function pose(letter: string, { trace }: FlightResult, timeSec: number, rotors: number): string {
	const { placeM, attitude } = poseAt(trace, timeSec, rotors);
	const [roll, pitch, yaw] = toEuler(attitude).map(degrees);
	const [north, east, down] = placeM;
	return `${letter}: roll ${roll}°, pitch ${pitch}°, yaw ${yaw}°; ${(-down).toFixed(2)} m up, ${Math.hypot(north, east).toFixed(2)} m from the start point.`;
}
