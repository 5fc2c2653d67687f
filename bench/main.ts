import { benchController } from "./controller.ts";
import { benchKernel } from "./kernel.ts";
import { benchMargins } from "./margins.ts";
import { benchPage } from "./page.ts";
import { flownMs, linearMs, planeSec } from "./page-reference.ts";
import { benchSweep } from "./sweep.ts";
import { benchTune, compareWithBrute, shippedCraft } from "./tuning.ts";

/** Everything measured side by side in one run: ratios travel between machines, seconds do not. */

const line = (name: string, value: string, note = ""): void =>
	console.log(`  ${name.padEnd(52)} ${value.padStart(12)}  ${note}`);
const ratio = (value: number | null): string => (value === null ? "-" : value.toFixed(2));
const wanted = process.argv.slice(2);
const asked = (part: string): boolean => wanted.length === 0 || wanted.includes(part);

if (asked("kernel")) {
	console.log("Flight kernel: one 60 s flight, 1 kHz loop, Runge-Kutta, whole model");
	const kernel = await benchKernel();
	line("JavaScript, million steps a second", kernel.javaScript.toFixed(2));
	line(
		"the same in C++ at -O3",
		ratio(kernel.native),
		kernel.native === null ? "no g++ on this machine" : "",
	);
	line("JavaScript over C++", ratio(kernel.overNative), "aim 0.9");
	line("JavaScript over the physics engine's RK4 step", ratio(kernel.overEngine), "aim 25");
	line("a step with a moving limb over the kernel's step", ratio(kernel.limbOverKernel));
	if (kernel.stateDifference !== null)
		line("largest difference of the two final states", kernel.stateDifference.toExponential(1));
}
if (asked("controller")) {
	console.log("Control tick");
	for (const timing of benchController()) line(timing.name, `${timing.nsPerTick.toFixed(0)} ns`);
}
if (asked("margins")) {
	console.log("Margins of one loop, 2,500 gain pairs, 300 frequencies");
	const { seconds, cells } = benchMargins();
	line(`${cells} cells`, `${seconds.toFixed(3)} s`, "aim 0.5 s");
}
if (asked("sweep"))
	for (const kind of ["margins", "flown"] as const) {
		console.log(`Sweep of the demo craft, 50 x 50, ${kind === "flown" ? "3 s drills" : "margins"}`);
		const timings = await benchSweep(kind);
		for (const t of timings)
			line(`${t.workers} worker${t.workers > 1 ? "s" : ""}`, `${t.seconds.toFixed(2)} s`);
		if (timings.length > 1) {
			line("speed-up over workers", ratio(timings[0]!.seconds / timings.at(-1)!.seconds));
			line("the same numbers", timings[0]!.checksum === timings.at(-1)!.checksum ? "yes" : "NO");
		}
	}
if (asked("tune")) {
	console.log(
		"Starting gains, even: time of one search of three axes in every corner; J over a brute-force grid's",
	);
	for (const craft of shippedCraft()) {
		const { processorSeconds, feasible } = benchTune(craft, "even");
		line(
			craft.name,
			`${processorSeconds.toFixed(2)} s`,
			`aim 2 s of processor time${feasible ? "" : "; INFEASIBLE"}`,
		);
		for (const { axis, excess } of compareWithBrute(craft, "even"))
			line(`  ${axis}, search against grid`, `${(100 * excess).toFixed(2)} %`, "aim below 2 %");
	}
}
if (asked("page")) {
	console.log("The page in Chromium; the same work on one thread of Node, in the same run, is 1");
	const share = (values: readonly number[], at: number): number =>
		[...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(at * values.length))]!;
	const ms = (value: number): string => `${value.toFixed(0)} ms`;
	const page = await benchPage();
	try {
		const oneFlight = share(flownMs(20), 0.5);
		const { firstVisitMs, reloadMs } = await page.firstPictures();
		for (const [name, values] of [
			["first true picture, first visit", firstVisitMs],
			["first true picture, reload", reloadMs],
		] as const)
			line(
				name,
				ms(share(values, 0.5)),
				`${ratio(share(values, 0.5) / oneFlight)} of one flight; aim 2000 ms`,
			);
		const moves = await page.drag();
		const oneLinear = share(linearMs(20), 0.5);
		for (const [key, one, aim] of [
			["linear", oneLinear, 50],
			["flown", oneFlight, 150],
		] as const)
			for (const at of [0.5, 0.95]) {
				const value = share(
					moves.map((each) => each[key]),
					at,
				);
				line(
					`drag to ${key} pictures, p${100 * at}`,
					ms(value),
					`${ratio(value / one)}${at > 0.9 ? `; aim ${aim} ms` : ""}`,
				);
			}
		for (const [kind, aim] of [
			["margins", "aim 0.3 s for 2,500"],
			["flown", "aim 2.5 s for 2,500 on two workers"],
		] as const) {
			const { cells, side, seconds } = await page.plane(kind);
			const one = await planeSec(kind, side);
			const whole = (2500 * seconds) / cells;
			line(
				`${kind} plane, ${cells} cells`,
				`${seconds.toFixed(2)} s`,
				`${ratio(seconds / one)}; ${whole.toFixed(2)} s for 2,500; ${aim}`,
			);
		}
	} finally {
		await page.close();
	}
}
