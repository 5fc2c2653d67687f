import {
	DirectionalLight,
	HemisphereLight,
	type Material,
	type Object3D,
	PerspectiveCamera,
	Scene,
	Vector3,
	WebGLRenderer,
} from "three";
import type { Vec3 } from "../../math/types.ts";
import { keepApart } from "./keep-apart.ts";
import { eyeOffset, eyeUp, fittingDistance, keyed, type Orbit, SIDES, turned, zoomed } from "./orbit.ts";

/** Colours as the page's style gives them now. */
export interface Colours {
	readonly paper: string;
	readonly sheet: string;
	readonly ink: string;
	readonly quiet: string;
	readonly line: string;
	readonly grid: string;
	readonly mark: string;
	readonly focus: string;
	/** Gain sets A to F. */
	readonly sets: readonly string[];
}

export function coloursOf(element: Element): Colours {
	const style = getComputedStyle(element);
	const read = (name: string): string => style.getPropertyValue(`--${name}`).trim();
	return {
		paper: read("paper"),
		sheet: read("sheet"),
		ink: read("ink"),
		quiet: read("quiet"),
		line: read("line"),
		grid: read("grid"),
		mark: read("mark"),
		focus: read("focus"),
		sets: ["a", "b", "c", "d", "e", "f"].map((letter) => read(`set-${letter}`)),
	};
}

/** A word pinned to a point of the scene. */
export interface Label {
	readonly text: string;
	readonly at: Vector3;
	readonly kind?: "rotor" | "axis" | "letter";
}

const FIELD_RAD = (28 * Math.PI) / 180;
const RAD_PER_PX = 0.008;

/**
 * A canvas with a camera that turns about a target: by drag, by key, by wheel while focused or with a modifier key. Draws
 * only when something changed and it is in sight.
 * @throws Error where the browser has no WebGL.
 */
export class Stage {
	readonly scene = new Scene();
	readonly #renderer: WebGLRenderer;
	readonly #camera = new PerspectiveCamera(FIELD_RAD * (180 / Math.PI), 1, 0.01, 500);
	readonly #host: HTMLElement;
	readonly #words: HTMLElement;
	readonly #ends: (() => void)[] = [];
	readonly #target = new Vector3();
	#radius = 1;
	#orbit: Orbit = SIDES["at an angle"];
	#labels: readonly Label[] = [];
	#frame = 0;
	#inSight = true;
	#waiting = false;

	constructor(host: HTMLElement) {
		this.#host = host;
		this.#renderer = new WebGLRenderer({ antialias: true, alpha: true });
		this.#renderer.setPixelRatio(Math.min(2, devicePixelRatio));
		this.#renderer.domElement.setAttribute("aria-hidden", "true");
		this.#words = document.createElement("div");
		this.#words.className = "words";
		this.#words.setAttribute("aria-hidden", "true");
		host.append(this.#renderer.domElement, this.#words);
		const sun = new DirectionalLight("#ffffff", 1.1);
		sun.position.set(-2, 5, 3);
		this.scene.add(new HemisphereLight("#ffffff", "#c8c2b4", 2.2), sun);
		this.#listen();
	}

	get orbit(): Orbit {
		return this.#orbit;
	}

	look(orbit: Orbit): void {
		this.#orbit = orbit;
		this.#host.dataset["around"] = orbit.aroundRad.toFixed(3);
		this.request();
	}

	/** What to turn about, in the picture's axes, and how much round it must be in sight. */
	aim(target: Vec3, radius: number): void {
		this.#target.set(...target);
		this.#radius = radius;
		this.request();
	}

	say(labels: readonly Label[]): void {
		this.#labels = labels;
		while (this.#words.children.length > labels.length) this.#words.lastChild?.remove();
		labels.forEach((label, i) => {
			const word = this.#words.children[i] ?? this.#words.appendChild(document.createElement("span"));
			if (word.textContent !== label.text) word.textContent = label.text;
			word.className = label.kind ?? "";
		});
		this.request();
	}

	/** One drawing in the next frame, however often it is asked for. */
	request(): void {
		if (!this.#inSight) {
			this.#waiting = true;
			return;
		}
		this.#frame ||= requestAnimationFrame(() => {
			this.#frame = 0;
			this.#draw();
		});
	}

	dispose(): void {
		cancelAnimationFrame(this.#frame);
		this.#inSight = false;
		for (const end of this.#ends) end();
		dispose(this.scene);
		this.#renderer.dispose();
		this.#renderer.forceContextLoss();
		this.#renderer.domElement.remove();
		this.#words.remove();
	}

	#draw(): void {
		const { clientWidth: width, clientHeight: height } = this.#host;
		if (width === 0 || height === 0) return;
		const camera = this.#camera;
		camera.aspect = width / height;
		const distance = fittingDistance(this.#radius, FIELD_RAD, camera.aspect);
		camera.far = 40 * distance;
		camera.near = distance / 100;
		camera.position.set(...eyeOffset(this.#orbit, distance)).add(this.#target);
		camera.up.set(...eyeUp(this.#orbit));
		camera.lookAt(this.#target);
		camera.updateProjectionMatrix();
		camera.updateMatrixWorld();
		this.#renderer.render(this.scene, camera);
		this.#placeWords(width, height);
		this.#host.dataset["drawn"] = String(Number(this.#host.dataset["drawn"] ?? 0) + 1);
	}

	#placeWords(width: number, height: number): void {
		const at = new Vector3();
		const shown = this.#labels.map((label, i) => {
			const word = this.#words.children[i] as HTMLElement;
			at.copy(label.at).project(this.#camera);
			word.hidden = at.z > 1 || Math.abs(at.x) > 1.05 || Math.abs(at.y) > 1.05;
			return {
				x: Math.round(((at.x + 1) / 2) * width),
				y: Math.round(((1 - at.y) / 2) * height),
				width: word.offsetWidth,
				height: word.offsetHeight,
				yields: label.kind === "axis",
			};
		});
		const down = keepApart(shown);
		shown.forEach(({ x, y }, i) => {
			const word = this.#words.children[i] as HTMLElement;
			word.style.transform = `translate(-50%, -50%) translate(${x}px, ${y + down[i]!}px)`;
		});
	}

	#on<K extends keyof HTMLElementEventMap>(
		kind: K,
		listener: (event: HTMLElementEventMap[K]) => void,
		options?: AddEventListenerOptions,
	): void {
		this.#host.addEventListener(kind, listener, options);
		this.#ends.push(() => this.#host.removeEventListener(kind, listener, options));
	}

	#listen(): void {
		const resized = new ResizeObserver(() => {
			const { clientWidth, clientHeight } = this.#host;
			this.#renderer.setSize(clientWidth, clientHeight, false);
			this.request();
		});
		resized.observe(this.#host);
		const sighted = new IntersectionObserver(([entry]) => {
			this.#inSight = entry?.isIntersecting ?? true;
			if (this.#inSight && this.#waiting) {
				this.#waiting = false;
				this.request();
			}
		});
		sighted.observe(this.#host);
		this.#ends.push(
			() => resized.disconnect(),
			() => sighted.disconnect(),
		);
		this.#on("pointerdown", (event) => {
			if (event.button !== 0) return;
			this.#host.setPointerCapture(event.pointerId);
		});
		this.#on("pointermove", (event) => {
			if (!this.#host.hasPointerCapture(event.pointerId)) return;
			this.look(turned(this.#orbit, -event.movementX * RAD_PER_PX, event.movementY * RAD_PER_PX));
		});
		this.#on(
			"wheel",
			(event) => {
				if (document.activeElement !== this.#host && !event.ctrlKey && !event.metaKey) return;
				event.preventDefault();
				this.look(zoomed(this.#orbit, Math.exp(0.0012 * event.deltaY)));
			},
			{ passive: false },
		);
		this.#on("keydown", (event) => {
			if (event.ctrlKey || event.metaKey || event.altKey) return;
			const next = keyed(this.#orbit, event.key);
			if (!next) return;
			event.preventDefault();
			event.stopPropagation();
			this.look(next);
		});
	}
}

/** Everything below an object gives back what it holds on the graphics card. */
export function dispose(root: Object3D): void {
	root.traverse((each) => {
		const held = each as Object3D & {
			geometry?: { dispose(): void };
			material?: Material | readonly Material[];
		};
		held.geometry?.dispose();
		for (const material of [held.material ?? []].flat() as Material[]) material.dispose();
	});
	root.removeFromParent();
}
