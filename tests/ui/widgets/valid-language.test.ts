import { expect, it } from "vitest";
import { ensureValidLanguage } from "../../../src/ui/widgets/valid-language.ts";

/** As in a browser: the language is the prototype's getter, and cannot be assigned. */
const navigatorOf = (language: string) =>
	Object.create({
		get language() {
			return language;
		},
	}) as { readonly language: string };

it.each(["en-US@posix", "C", ""])("replaces the language %j, which Intl refuses", (language) => {
	const navigator = navigatorOf(language);
	expect(() => new Intl.NumberFormat(navigator.language)).toThrow(RangeError);
	ensureValidLanguage(navigator);
	expect(new Intl.NumberFormat(navigator.language).format(1)).toBe(new Intl.NumberFormat().format(1));
});

it.each(["de", "en-GB", "zh-Hant-TW"])("leaves the language %j alone", (language) => {
	const navigator = navigatorOf(language);
	ensureValidLanguage(navigator);
	expect(navigator.language).toBe(language);
	expect(Object.hasOwn(navigator, "language")).toBe(false);
});
