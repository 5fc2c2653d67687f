import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

export interface Chromium {
	readonly executablePath: string;
	readonly args: readonly string[];
	readonly env: { readonly [name: string]: string };
}

const INSTALLED = [
	"/usr/bin/google-chrome",
	"/usr/bin/chromium",
	"/usr/bin/chromium-browser",
	"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
];

/** CHROME_BIN, an installed Chrome or Chromium, else the one inside the package @sparticuz/chromium (Linux x64). */
export async function findChromium(): Promise<Chromium> {
	const args = [
		"--no-sandbox",
		"--disable-dev-shm-usage",
		"--use-gl=angle",
		"--use-angle=swiftshader",
		"--enable-unsafe-swiftshader",
	];
	const own = { ...process.env } as { [name: string]: string };
	const given = process.env["CHROME_BIN"];
	const installed = given ?? INSTALLED.find((path) => existsSync(path));
	if (installed) return { executablePath: installed, args, env: own };
	// Makes it unpack the libraries and fonts that it brings along.
	process.env["AWS_EXECUTION_ENV"] = "AWS_Lambda_nodejs20.x";
	const { default: chromium } = await import("@sparticuz/chromium");
	const executablePath = await chromium.executablePath();
	const libraries = ["al2023/lib", "al2/lib"]
		.map((each) => join(tmpdir(), each))
		.filter((each) => existsSync(each));
	return {
		executablePath,
		args,
		env: {
			...own,
			LD_LIBRARY_PATH: [...libraries, own["LD_LIBRARY_PATH"] ?? ""].filter(Boolean).join(":"),
			FONTCONFIG_PATH: join(tmpdir(), "fonts"),
		},
	};
}
