import { effect, useComputed } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Craft } from "../../craft/model.ts";
import type { FlightResult } from "../../flight/result.ts";
import { toEuler } from "../../math/quaternion.ts";
import { loadsAt, plantAt, poseAt as poseAtPoint } from "../../physics/plant-at.ts";
import type { NamedSet } from "../../pictures/looks.ts";
import { listed } from "../../pictures/looks.ts";
import { fixed } from "../../pictures/values-at.ts";
import { chosenDrill, chosenPoint } from "../state/chosen.ts";
import { cursorSec, playing, pointAt, STEP_SEC } from "../state/cursor.ts";
import { scenario } from "../state/store.ts";
import { theme } from "../state/theme.ts";
import { loadsDuring } from "../three/carriage.ts";
import { fixedParts } from "../three/limb-places.ts";
import { poseAt } from "../three/motion.ts";
import type { ReplayScene } from "../three/replay-scene.ts";
import { CraftPlan } from "./craft-plan.tsx";
import { ReplayNumbers } from "./replay-numbers.tsx";
import { SceneFrame } from "./scene-frame.tsx";

const SPEEDS = [
	{ words: "as fast as flown", factor: 1 },
	{ words: "1/2", factor: 1 / 2 },
	{ words: "1/5", factor: 1 / 5 },
	{ words: "1/10", factor: 1 / 10 },
];
/** Where motion is not wanted it goes on in steps. */
const CALM_STEP_SEC = 0.25;
const DEG = 180 / Math.PI;
const degrees = (radians: number): string => fixed(DEG * radians, 0);

/** When the last of them ends. */
export const endOf = (flights: readonly { readonly flight: FlightResult }[]): number =>
	Math.max(0, ...flights.map(({ flight }) => flight.trace.columns["time"]!.at(-1) ?? 0));

/** One or two flights of the drill in 3D, at the instant that is pointed at. Plays only when asked to. */
export function Replay({
	flights,
}: {
	readonly flights: readonly (NamedSet & { readonly flight: FlightResult })[];
}) {
	const [scene, setScene] = useState<ReplayScene | null>(null);
	const about = useComputed(() => {
		const { craft, parts, operatingPoints, drills, document } = scenario.value;
		const point = operatingPoints.find((each) => each.name === chosenPoint.value)!.point;
		return {
			craft,
			parts: fixedParts(parts, document),
			point,
			poseRad: poseAtPoint(craft, point),
			loads: loadsAt(craft, point),
			centreOfMassM: plantAt(craft, point).centreOfMassM,
			drill: drills.find((each) => each.name === chosenDrill.value),
		};
	}).value;
	const pair = flights.slice(0, 2);
	const endSec = endOf(pair);
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
	useEffect(
		() => (scene ? effect(() => scene.at(Math.min(cursorSec.value ?? 0, endSec))) : undefined),
		[scene, endSec],
	);
	if (pair.length === 0) return null;
	const loadsAtTime = (timeSec: number): number =>
		about.drill ? loadsDuring(about.craft, about.point, about.drill, timeSec).length : 0;
	return (
		<section class="sheet" aria-labelledby="replay-title">
			<header>
				<h2 id="replay-title">Replay</h2>
			</header>
			<SceneFrame<ReplayScene>
				label={`The flight in 3D: set ${listed(pair.map((each) => each.letter))}. The lines below say where it is.`}
				invented={about.craft.invented}
				details="replay-numbers"
				make={(scenes, host) => new scenes.ReplayScene(host)}
				onScene={setScene}
				instead={<CraftPlan {...about} />}
			/>
			<ReplayBar endSec={endSec} />
			<Poses pair={pair} endSec={endSec} craft={about.craft} loadsAt={loadsAtTime} />
			<ReplayNumbers
				pair={pair}
				endSec={endSec}
				motors={about.craft.rotors.map((rotor) => rotor.motorNumber)}
			/>
			<p class="quiet small">
				Each disc of {first?.letter} is darker the more its motor is asked for, in percent of full. The wind
				arrow is mean wind and gusts, without turbulence.
				{about.craft.load.liquid ? " The square about the load is the level of its liquid." : ""}
			</p>
		</section>
	);
}

/** Plays and shows the cursor's time. Of its own, so that nothing else is worked out anew with every frame. */
function ReplayBar({ endSec }: { readonly endSec: number }) {
	const [factor, setFactor] = useState(1);
	const nowSec = Math.min(cursorSec.value ?? 0, endSec);
	const going = playing.value;
	useEffect(() => {
		if (!going) return undefined;
		const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
		let last = performance.now();
		let frame = requestAnimationFrame(function next(now: number): void {
			const on = (factor * (now - last)) / 1000;
			if (!calm || on >= CALM_STEP_SEC) {
				const then = (cursorSec.peek() ?? 0) + on;
				last = now;
				cursorSec.value = Math.min(then, endSec);
				if (then >= endSec) playing.value = false;
			}
			if (playing.peek()) frame = requestAnimationFrame(next);
		});
		return () => cancelAnimationFrame(frame);
	}, [going, factor, endSec]);
	// Gone from sight: it does not go on by itself when it comes back.
	useEffect(
		() => () => {
			playing.value = false;
		},
		[],
	);
	return (
		<div class="row replay-bar">
			<button
				type="button"
				onClick={() => {
					if (!going && nowSec >= endSec) cursorSec.value = 0;
					playing.value = !going;
				}}
			>
				{going ? "Pause" : "Play"}
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
				onInput={(event) => pointAt(Number(event.currentTarget.value))}
			/>
			<span>{nowSec.toFixed(2)} s</span>
		</div>
	);
}

function Poses({
	pair,
	endSec,
	craft,
	loadsAt,
}: {
	readonly pair: readonly (NamedSet & { readonly flight: FlightResult })[];
	readonly endSec: number;
	readonly craft: Craft;
	/** How many hang on the craft at a time. */
	loadsAt(timeSec: number): number;
}) {
	const nowSec = Math.min(cursorSec.value ?? 0, endSec);
	return (
		<>
			{pair.map(({ letter, flight }, i) => (
				<p class="small" key={letter}>
					{pose(letter, flight, nowSec, craft, loadsAt(nowSec))}
					{pair.length > 1 ? (i === 0 ? " Drawn solid." : " Drawn as a dashed outline.") : ""}
				</p>
			))}
		</>
	);
}

function pose(
	letter: string,
	{ trace }: FlightResult,
	timeSec: number,
	{ rotors, limb, load }: Craft,
	loads: number,
): string {
	const { placeM, attitude, limbRad, hangs } = poseAt(trace, timeSec, rotors.length);
	const [roll, pitch, yaw] = toEuler(attitude).map(degrees);
	const [north, east, down] = placeM;
	const links = (limbRad ?? []).map((angle, i) => `; ${limb!.links[i]!.name} ${degrees(angle)}°`).join("");
	const what = load.liquid ? "its liquid" : "the load";
	const swing = hangs
		.slice(0, loads)
		.map(([, , down]) => `; ${what} swings ${degrees(Math.acos(Math.min(1, down)))}° from straight down`)
		.join("");
	return `${letter}: roll ${roll}°, pitch ${pitch}°, yaw ${yaw}°; ${(-down).toFixed(2)} m up, ${Math.hypot(north, east).toFixed(2)} m from the start point${links}${swing}.`;
}
