import { expect, test } from "vitest";
import type { Io } from "../../src/cli/io.ts";
import { progressBar } from "../../src/cli/progress.ts";

function fake(drawsOver: boolean): { io: Io; text: () => string; pass: (ms: number) => void } {
	let text = "";
	let clock = 0;
	const io = {
		drawsOver,
		err: (more: string) => {
			text += more;
		},
		now: () => clock,
	} as Io;
	return {
		io,
		text: () => text,
		pass: (ms) => {
			clock += ms;
		},
	};
}

test("a line per quarter where nothing can be drawn over", () => {
	const { io, text } = fake(false);
	const bar = progressBar(io, "sweep", 10);
	for (let i = 1; i <= 10; i++) bar.update(i);
	bar.end();
	expect(text()).toBe("sweep: 3 of 10\nsweep: 5 of 10\nsweep: 8 of 10\nsweep: 10 of 10\n");
});

test("a bar on a terminal: at most ten a second, with the time left, cleared at the end", () => {
	const { io, text, pass } = fake(true);
	const bar = progressBar(io, "sweep", 100);
	for (let i = 1; i <= 50; i++) {
		pass(50);
		bar.update(i);
	}
	bar.end();
	const frames = text().split("\r").slice(1);
	expect(frames.length).toBe(26);
	expect(frames[0]).toContain("1 of 100, about 5 s left");
	expect(frames.at(-2)).toContain("[############------------] 49 of 100");
	expect(frames.at(-1)).toBe("\x1b[K");
});
