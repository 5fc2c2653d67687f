import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { loadScenes } from "../three/load-scenes.ts";
import { SIDES, type Side } from "../three/orbit.ts";
import type { Stage } from "../three/stage.ts";
import "./scene-frame.css";

interface AnyScene {
	readonly stage: Stage;
	dispose(): void;
}

type Scenes = Awaited<ReturnType<typeof loadScenes>>;

export interface SceneFrameProps<S extends AnyScene> {
	readonly label: string;
	readonly invented: boolean;
	/** Id of what says the same in numbers. */
	readonly details: string;
	/** Made once, in the element that it draws into. */
	readonly make: (scenes: Scenes, host: HTMLElement) => S;
	/** Called when the scene is there, and with null when it goes. */
	readonly onScene: (scene: S | null) => void;
	/** Shown where there is no WebGL. */
	readonly instead: ComponentChildren;
}

/** A 3D picture: fetched when it comes near, turned by drag and keys, with a drawing in its stead where it cannot be. */
export function SceneFrame<S extends AnyScene>({
	label,
	invented,
	details,
	make,
	onScene,
	instead,
}: SceneFrameProps<S>) {
	const host = useRef<HTMLDivElement>(null);
	const stage = useRef<Stage | null>(null);
	const [trouble, setTrouble] = useState("");
	const [near, setNear] = useState(false);
	useEffect(() => {
		const element = host.current;
		if (!element) return undefined;
		const observer = new IntersectionObserver(
			([entry]) => {
				if (entry?.isIntersecting) setNear(true);
			},
			{ rootMargin: "200px" },
		);
		observer.observe(element);
		return () => observer.disconnect();
	}, []);
	useEffect(() => {
		if (!near) return undefined;
		let wanted = true;
		let scene: S | null = null;
		void loadScenes().then(
			(scenes) => {
				const element = host.current;
				if (!wanted || !element) return;
				try {
					scene = make(scenes, element);
				} catch {
					setTrouble(
						"This browser shows no 3D pictures (WebGL is missing or switched off); here is the plan.",
					);
					return;
				}
				stage.current = scene.stage;
				onScene(scene);
			},
			() => {
				if (wanted) setTrouble("The 3D part of the page could not be fetched; here is the plan.");
			},
		);
		return () => {
			wanted = false;
			stage.current = null;
			if (!scene) return;
			onScene(null);
			scene.dispose();
		};
	}, [near]);
	if (trouble)
		return (
			<div class="scene-instead" aria-details={details}>
				<p class="quiet">{trouble}</p>
				{instead}
			</div>
		);
	return (
		<div class="scene">
			<div
				ref={host}
				class="scene-host"
				// biome-ignore lint/a11y/noNoninteractiveTabindex: turned by keys
				tabIndex={0}
				role="img"
				aria-label={label}
				aria-details={details}
			/>
			{invented ? <p class="scene-invented">Invented craft</p> : null}
			<fieldset class="row small">
				<legend class="visually-hidden">Look</legend>
				{(Object.keys(SIDES) as Side[]).map((side) => (
					<button type="button" key={side} onClick={() => stage.current?.look(SIDES[side])}>
						{side}
					</button>
				))}
				<span class="quiet">
					Drag or arrow keys turn; + and − or the wheel zoom once the picture is selected.
				</span>
			</fieldset>
		</div>
	);
}
