type Scenes = typeof import("./scenes.ts");
let loading: Promise<Scenes> | null = null;

/** The 3D pictures, fetched once and only when one is to be seen. */
export function loadScenes(): Promise<Scenes> {
	loading ??= import("./scenes.ts").catch((error: unknown) => {
		loading = null;
		throw error;
	});
	return loading;
}
