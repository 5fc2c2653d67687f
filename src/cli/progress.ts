import type { Io } from "./io.ts";

const WIDTH = 24;

/** How far long work is, on stderr: a bar that is drawn over on a terminal, a line per quarter elsewhere. */
export interface Progress {
	update(done: number): void;
	/** Clears the bar. */
	end(): void;
}

export function progressBar(io: Io, label: string, total: number): Progress {
	let drawn = -1;
	let quarter = 0;
	const started = io.now();
	return {
		update(done) {
			const share = total > 0 ? done / total : 1;
			if (io.drawsOver) {
				const now = io.now();
				if (done < total && drawn >= 0 && now - drawn < 100) return;
				drawn = now;
				const full = Math.round(WIDTH * share);
				const left = done > 0 && done < total ? ((now - started) / done) * (total - done) : 0;
				const rest = left > 1000 ? `, about ${Math.ceil(left / 1000)} s left` : "";
				io.err(
					`\r${label} [${"#".repeat(full)}${"-".repeat(WIDTH - full)}] ${done} of ${total}${rest}\x1b[K`,
				);
			} else if (Math.floor(share * 4) > quarter) {
				quarter = Math.floor(share * 4);
				io.err(`${label}: ${done} of ${total}\n`);
			}
		},
		end() {
			if (io.drawsOver && drawn >= 0) io.err("\r\x1b[K");
		},
	};
}
