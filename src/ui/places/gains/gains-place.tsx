export function GainsPlace() {
	return <h1>Gains</h1>;
}
