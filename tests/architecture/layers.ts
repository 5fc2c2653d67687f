/** Which folder may import which; a folder not listed here is an error. */
const MAY_IMPORT: { readonly [layer: string]: readonly string[] } = (() => {
	const ranks: readonly (readonly string[])[] = [
		["src/units", "src/math"],
		["src/linear", "src/ode"],
		["src/craft", "src/control"],
		["src/physics"],
		["src/flight"],
		["src/analysis"],
		["src/tuning"],
		["src/handover"],
		["src/scenario"],
		["src/pictures"],
		["src/report"],
		["workers"],
		["src/cli", "src/ui"],
	];
	const table: Record<string, string[]> = {};
	const below: string[] = [];
	for (const rank of ranks) {
		for (const layer of rank) table[layer] = [...below];
		below.push(...rank);
	}
	for (const layer of ["src/craft", "src/control"]) table[layer] = ["src/units", "src/math", "src/linear"];
	return table;
})();

/** Layers that may touch the machine: clock, process, files, threads. */
const MACHINE_LAYERS: readonly string[] = ["src/cli", "src/ui", "workers"];

/** Packages and where they may be imported; one that is not listed may be imported nowhere. */
const PACKAGES: { readonly [name: string]: readonly string[] } = {
	mathjs: ["src/units", "src/math", "src/linear"],
	"ml-matrix": ["src/math", "src/linear", "src/analysis"],
	zod: ["src/scenario", "src/report", "src/cli"],
	"fastest-levenshtein": ["src/scenario", "src/cli"],
	commander: ["src/cli"],
	picocolors: ["src/cli"],
	comlink: ["workers"],
	tsx: ["src/cli", "workers"],
	vite: ["src/cli"],
	preact: ["src/ui"],
	"@preact/signals": ["src/ui"],
	"plotly.js-dist-min": ["src/ui"],
	uplot: ["src/ui"],
	three: ["src/ui"],
};

/** The only file that may import a module whose name is computed: it starts any worker it is told to. */
export const MAY_COMPUTE_IMPORTS = "workers/node-boot.mjs";

/** The layer that a repository path belongs to; null where there is none. */
export function layerOf(path: string): string | null {
	return Object.keys(MAY_IMPORT).find((layer) => path.startsWith(`${layer}/`)) ?? null;
}

export function mayImport(from: string, to: string): boolean {
	return from === to || (MAY_IMPORT[from] ?? []).includes(to);
}

export function mayUsePackage(layer: string, name: string): boolean {
	return (PACKAGES[name] ?? []).includes(layer);
}

export function touchesMachine(layer: string): boolean {
	return MACHINE_LAYERS.includes(layer);
}

/** Runs in a browser: all that a browser has, nothing that Node has. */
export function isPageLayer(layer: string): boolean {
	return layer === "src/ui";
}
