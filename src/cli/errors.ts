/** What the person gave cannot be used: exit code 2, the message as it stands, a way out where there is one. */
export class BadInput extends Error {
	override readonly name = "BadInput";
	readonly hint: string;

	constructor(message: string, hint = "") {
		super(message);
		this.hint = hint;
	}
}
