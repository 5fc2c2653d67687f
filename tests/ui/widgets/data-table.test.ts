import { expect, it } from "vitest";
import { csvText, markdownText } from "../../../src/ui/widgets/data-table.tsx";

it("quotes what CSV must quote (RFC 4180)", () =>
	expect(
		csvText(
			["a", 'b "c"'],
			[
				["1,5", "x\ny"],
				["2", ""],
			],
		),
	).toBe('a,"b ""c"""\r\n"1,5","x\ny"\r\n2,\r\n'));

it("keeps a Markdown table's cells apart", () =>
	expect(markdownText(["a", "b"], [["1|2", "x\ny"]])).toBe("| a | b |\n| --- | --- |\n| 1\\|2 | x y |\n"));
