import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { openDocument } from "../commands/open-document.ts";
import { toFragment } from "../keeping/share-link.ts";
import { redoName, redoNext, run, scenario, state, undoLast, undoName } from "../state/store.ts";
import { type ThemeChoice, themeChoice } from "../state/theme.ts";
import { say } from "./notice.tsx";
import { readScenarioFile } from "./open-file.ts";

/** Undo, redo, files, link, light or dark. */
export function Tools() {
	useKeys();
	const picker = useRef<HTMLInputElement>(null);
	const [folded, setFolded] = useState(true);
	return (
		<section class={folded ? "tools folded" : "tools"} aria-label="Scenario">
			<button
				type="button"
				class="undo"
				onClick={undoLast}
				disabled={undoName.value === null}
				title={undoName.value ?? ""}
			>
				Undo<span class="visually-hidden"> {undoName.value}</span>
			</button>
			<button
				type="button"
				onClick={redoNext}
				disabled={redoName.value === null}
				title={redoName.value ?? ""}
			>
				Redo<span class="visually-hidden"> {redoName.value}</span>
			</button>
			<button type="button" class="fold-tools" aria-expanded={!folded} onClick={() => setFolded(!folded)}>
				{folded ? "Files and look" : "Fold away"}
			</button>
			<button type="button" onClick={() => picker.current?.click()}>
				Open file
			</button>
			<input
				ref={picker}
				type="file"
				accept=".json,application/json"
				class="visually-hidden"
				tabIndex={-1}
				aria-label="Scenario file"
				onChange={(event) => {
					const file = event.currentTarget.files?.[0];
					event.currentTarget.value = "";
					if (file) void openFile(file);
				}}
			/>
			<button type="button" onClick={saveFile}>
				Save file
			</button>
			<button type="button" onClick={() => void copyLink()}>
				Copy link
			</button>
			<label>
				<span class="visually-hidden">Light or dark</span>
				<select
					value={themeChoice.value}
					onChange={(event) => {
						themeChoice.value = event.currentTarget.value as ThemeChoice;
					}}
				>
					<option>as the system</option>
					<option>light</option>
					<option>dark</option>
				</select>
			</label>
		</section>
	);
}

/** True while a file is held over the page. */
export const dropping = signal(false);

async function openFile(file: File): Promise<void> {
	const read = await readScenarioFile(file);
	if ("document" in read) run(openDocument(read.document, file.name));
	say("document" in read ? `${file.name} is open; undo goes back.` : read.problem);
}

function saveFile(): void {
	const text = `${JSON.stringify(state.value.document, null, "\t")}\n`;
	const link = document.createElement("a");
	link.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
	link.download = `${scenario.value.name.replace(/[^\p{L}\p{N}]+/gu, "-") || "scenario"}.json`;
	link.click();
	setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

async function copyLink(): Promise<void> {
	const link = `${location.origin}${location.pathname}${await toFragment(state.value.document)}`;
	try {
		await navigator.clipboard.writeText(link);
		say(`Copied: a link of ${link.length} characters that carries the whole scenario. No server sees it.`);
	} catch {
		say(link);
	}
}

function useKeys(): void {
	useEffect(() => {
		const onKey = (event: KeyboardEvent): void => {
			if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
			const typing = event.target instanceof HTMLInputElement && event.target.type === "text";
			const key = event.key.toLowerCase();
			if (key === "s") {
				event.preventDefault();
				saveFile();
			} else if (typing) return;
			else if (key === "z") {
				event.preventDefault();
				if (event.shiftKey) redoNext();
				else undoLast();
			} else if (key === "y") {
				event.preventDefault();
				redoNext();
			}
		};
		const onOver = (event: DragEvent): void => {
			if (!event.dataTransfer?.types.includes("Files")) return;
			event.preventDefault();
			dropping.value = true;
		};
		const onLeave = (event: DragEvent): void => {
			if (event.relatedTarget === null) dropping.value = false;
		};
		const onDrop = (event: DragEvent): void => {
			dropping.value = false;
			const file = event.dataTransfer?.files[0];
			if (!file) return;
			event.preventDefault();
			void openFile(file);
		};
		addEventListener("keydown", onKey);
		addEventListener("dragover", onOver);
		addEventListener("dragleave", onLeave);
		addEventListener("drop", onDrop);
		return () => {
			removeEventListener("keydown", onKey);
			removeEventListener("dragover", onOver);
			removeEventListener("dragleave", onLeave);
			removeEventListener("drop", onDrop);
		};
	}, []);
}
