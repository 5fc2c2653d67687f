/**
 * Gives a navigator whose language is not a valid tag (BCP 47), as where the system's is 'en-US@posix', the language that numbers are written in
 * by default: libraries hand it on to `Intl`, which throws RangeError at a tag it cannot read.
 */
export function ensureValidLanguage(navigator: { readonly language: string }): void {
	try {
		Intl.getCanonicalLocales(navigator.language);
	} catch {
		const value = new Intl.NumberFormat().resolvedOptions().locale;
		Object.defineProperty(navigator, "language", { value, configurable: true });
	}
}
