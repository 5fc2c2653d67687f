import type { Picture } from "../../pictures/picture.ts";
import { pictureSvg } from "../../pictures/svg.ts";
import { say } from "../shell/notice.tsx";
import { theme } from "../state/theme.ts";
import { pictureCsv } from "./picture-csv.ts";

const WIDTH_PX = 1100;
/** PNG pixels per SVG pixel. */
const DENSITY = 2;

/** A picture as a file: SVG and PNG as the command line draws it, CSV of its curves. */
export function SavePicture({ picture }: { readonly picture: Picture }) {
	const name = picture.title.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "picture";
	const svg = (): string => pictureSvg(picture, { theme: theme.value, widthPx: WIDTH_PX });
	return (
		<p class="row small save">
			<span class="quiet">Save as</span>
			<button
				type="button"
				class="plain"
				onClick={() => save(new Blob([svg()], { type: "image/svg+xml" }), `${name}.svg`)}
			>
				SVG
			</button>
			<button type="button" class="plain" onClick={() => void savePng(svg(), `${name}.png`)}>
				PNG
			</button>
			<button
				type="button"
				class="plain"
				onClick={() => save(new Blob([pictureCsv(picture)], { type: "text/csv" }), `${name}.csv`)}
			>
				CSV
			</button>
			<span class="visually-hidden">{picture.title}</span>
		</p>
	);
}

function save(blob: Blob, name: string): void {
	const link = document.createElement("a");
	link.href = URL.createObjectURL(blob);
	link.download = name;
	link.click();
	setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

async function savePng(svg: string, name: string): Promise<void> {
	try {
		const image = new Image();
		image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
		await image.decode();
		const canvas = document.createElement("canvas");
		canvas.width = DENSITY * image.naturalWidth;
		canvas.height = DENSITY * image.naturalHeight;
		const brush = canvas.getContext("2d");
		if (!brush) throw new Error("no canvas");
		brush.scale(DENSITY, DENSITY);
		brush.drawImage(image, 0, 0);
		const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
		if (!blob) throw new Error("no picture");
		save(blob, name);
	} catch {
		say("This browser makes no PNG of it: save the SVG.");
	}
}
