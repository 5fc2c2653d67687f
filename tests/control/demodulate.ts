/**
 * The complex amplitude of what `step` makes of sin(2 pi k / samplesPerPeriod), after `settlePeriods`, over
 * `measurePeriods` whole periods, by the orthogonality of sampled sines; a constant offset drops out.
 */
export function sineAnswer(
	step: (input: number) => number,
	samplesPerPeriod: number,
	settlePeriods: number,
	measurePeriods: number,
): [number, number] {
	let re = 0;
	let im = 0;
	const settle = settlePeriods * samplesPerPeriod;
	const measure = measurePeriods * samplesPerPeriod;
	for (let k = 0; k < settle + measure; k++) {
		const angle = (2 * Math.PI * (k % samplesPerPeriod)) / samplesPerPeriod;
		const y = step(Math.sin(angle));
		if (k < settle) continue;
		re += y * Math.sin(angle);
		im += y * Math.cos(angle);
	}
	return [(2 * re) / measure, (2 * im) / measure];
}
