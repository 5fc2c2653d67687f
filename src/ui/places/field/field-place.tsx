export function FieldPlace() {
	return <h1>Field</h1>;
}
