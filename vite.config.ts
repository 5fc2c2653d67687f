import { readFileSync } from "node:fs";
import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8")) as {
	version: string;
};

/** What the served page may do: nothing from any other host, no eval. */
const SECURITY =
	"default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; script-src 'self' 'wasm-unsafe-eval'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'";

const headers = {
	"Content-Security-Policy": SECURITY,
	"Referrer-Policy": "no-referrer",
	"X-Content-Type-Options": "nosniff",
};

// const stays const: turned into var the flight kernel is a third slower on V8.
const output = { topLevelVar: false };

export default defineConfig({
	define: { __VERSION__: JSON.stringify(version) },
	build: { target: "es2023", sourcemap: false, chunkSizeWarningLimit: 5000, rolldownOptions: { output } },
	worker: { format: "es", rolldownOptions: { output } },
	preview: { headers },
	plugins: [
		VitePWA({
			injectRegister: false,
			registerType: "prompt",
			manifest: {
				name: "Levelhead",
				short_name: "Levelhead",
				description: "Choose PID gains for a quadcopter that you built and coded yourself.",
				display: "standalone",
				background_color: "#fbfaf6",
				theme_color: "#fbfaf6",
				icons: [{ src: "icon.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
			},
			workbox: { maximumFileSizeToCacheInBytes: 8e6, globPatterns: ["**/*.{js,css,html,svg,woff2}"] },
		}),
	],
});
