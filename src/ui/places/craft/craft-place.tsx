export function CraftPlace() {
	return <h1>Craft</h1>;
}
