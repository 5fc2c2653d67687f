/** A complex number. Hot paths keep real and imaginary parts in separate Float64Arrays instead. */
export interface Complex {
	readonly re: number;
	readonly im: number;
}
